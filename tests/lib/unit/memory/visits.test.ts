import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Seen } from '../../../../lib/unit/memory/memory.ts';
import { visits } from '../../../../lib/unit/memory/visits.ts';
import { CAUSES } from '../../../../shared/alerts.ts';
import type { Fact, ServiceVisit } from '../../../../shared/facts.ts';

const CODES = Object.values(CAUSES).flat();
// It goes by nothing but the fact.
const NOTHING_SEEN = {} as Seen;

function visit(time: number, findings: string[], work: string[]): ServiceVisit {
  return {
    kind: 'service-visit',
    id: `v${time}`,
    time,
    known: time,
    at: time,
    technician: 't',
    findings,
    work,
  };
}

function keptOf(...facts: Fact[]) {
  return facts.reduce((kept, fact) => visits.observe(kept, fact, NOTHING_SEEN), visits.start({} as never));
}

const words = fc.array(fc.oneof(fc.constantFrom(...CODES, 'nothing-found'), fc.string({ maxLength: 12 })), {
  maxLength: 6,
});

describe('the memory of visits', () => {
  it('keeps of the last visit when it was and the causes that it named, wherever it did', () => {
    fc.assert(
      fc.property(words, words, (findings, work) => {
        const kept = keptOf(visit(1, ['leak'], ['meter replaced']), visit(2, findings, work));
        const named = CODES.filter((code) => findings.includes(code) || work.includes(code));
        expect(kept.at).toBe(2);
        expect([...kept.found].sort()).toEqual([...new Set(named)].sort());
        expect(kept.nothing).toBe(named.length === 0 && [...findings, ...work].includes('nothing-found'));
        expect(kept.worked).toBe(work.some((done) => done !== 'nothing-found'));
        expect(JSON.parse(JSON.stringify(kept))).toEqual(kept);
      }),
    );
  });

  it('is left alone by what is no visit', () => {
    const kept = keptOf(visit(1, ['meter-stalled'], []));
    const level: Fact = { kind: 'salt-level', id: 'l', time: 3, known: 3, at: 3, lb: 80 };
    expect(visits.observe(kept, level, NOTHING_SEEN)).toBe(kept);
  });
});
