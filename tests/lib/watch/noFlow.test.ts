import { describe, expect, it } from 'vitest';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play, type Script } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const registry = registryOf(unitRecord());
const zone = zoneOf('America/New_York');
const STALLS = 100;
/** A household with a little life in it, whose meter stalls. */
const stalled: Script = {
  days: 130,
  gallons: (day) => 160 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9),
  registers: (day) => (day < STALLS ? 1 : 0),
};

function noFlowOf(more: readonly Wire[] = []) {
  const { alerts } = replayLines(linesOf([...play(stalled), ...more]), registry);
  return alerts.filter(({ kind }) => kind === 'no-flow');
}

function at(day: number, type: string, data: Record<string, unknown>): Wire {
  const time = zone.startOf(FIRST_DATE + day) + 15 * 3_600_000;
  return wire(type, `${type}-${day}`, time, data, time);
}

const visit = (day: number, findings: string[]) =>
  at(day, 'service-visit', { technician: 'tech-1', findings, work: [] });

/** The day of the run on which somebody was sent; undefined if nobody was. */
function sentOn(more: readonly Wire[] = []): number | undefined {
  const step = noFlowOf(more)
    .flatMap(({ history }) => history)
    .find(({ severity }) => severity !== 'routine');
  return step && zone.dateAt(Date.parse(step.at)) - FIRST_DATE - STALLS;
}

describe('a run of zero days', () => {
  it('is a stalled meter for certain once a technician says so', () => {
    const without = sentOn() ?? Infinity;
    expect(without).toBeLessThanOrEqual(21);
    // That he came is known; that nothing has flowed since has to show that it was not mended.
    expect(sentOn([visit(STALLS + 3, ['meter-stalled'])])).toBeLessThan(without);
    expect(sentOn([visit(STALLS + 3, ['meter-stalled'])])).toBeLessThanOrEqual(7);
  });

  it('is much less of one where a technician found nothing', () => {
    const last = (more: readonly Wire[]) => noFlowOf(more).at(-1)?.history.at(-1)?.probability ?? 0;
    const without = sentOn() ?? Infinity;
    const nothing = sentOn([visit(STALLS + 5, ['nothing-found'])]) ?? Infinity;
    expect(nothing).toBeGreaterThan(without);
    expect(last([visit(STALLS + 29, ['nothing-found'])])).toBeLessThan(last([]));
  });

  it('is weighed by what is not answered, though little, and by what is at once', () => {
    const asked = at(STALLS + 4, 'question', { step: 'asked' });
    const unsure = at(STALLS + 5, 'question', { step: 'not-sure' });
    const { history: [first] = [] } = noFlowOf()[0] ?? {};
    expect(first?.severity).toBe('routine');
    // The silence of those away is a little rarer than that of those at home by the rules: no answer speaks against it.
    const late = sentOn([asked]) ?? Infinity;
    expect(late).toBeGreaterThanOrEqual(sentOn() ?? Infinity);
    expect(sentOn([asked, unsure])).toBe(sentOn());
    const from = new Date((FIRST_DATE + STALLS) * 86_400_000).toISOString().slice(0, 10);
    const to = new Date((FIRST_DATE + STALLS + 4) * 86_400_000).toISOString().slice(0, 10);
    expect(sentOn([asked, at(STALLS + 5, 'at-home', { from, to })])).toBeLessThanOrEqual(6);
  });
});
