import fc from 'fast-check';
import { expect, test } from 'vitest';
import { FactReader, FactWriter } from '../../bin/replay/factCodec.ts';
import { accepted, facts } from '../support/facts.ts';

test('every kind of fact comes back as it was, to the sign of a zero and half of a surrogate pair', () => {
  const kinds = new Set<string>();
  fc.assert(
    fc.property(fc.array(facts, { minLength: 1, maxLength: 12 }), (written) => {
      const writer = new FactWriter();
      for (const [index, fact] of written.entries()) {
        writer.number(index);
        writer.fact(fact);
        kinds.add(fact.kind);
      }
      const reader = new FactReader(writer.bytes);
      for (const [index, fact] of written.entries()) {
        expect(reader.number()).toBe(index);
        const read = reader.fact();
        // Strictly: -0 is not 0, and a member that is undefined is not one that is missing.
        expect(read).toStrictEqual(fact);
        expect(Object.keys(read)).toEqual(Object.keys(fact));
      }
      expect(reader.at).toBe(writer.size);
    }),
    { numRuns: 300 },
  );
  expect(kinds.size).toBe(10);
});

test('a fact that is larger than all before it is written whole', () => {
  const large = { ...accepted('é'.repeat(64)), kind: 'salt-level', lb: 1 } as const;
  const visit = {
    kind: 'service-visit',
    ...accepted('v'),
    technician: 'tech-4',
    findings: Array.from({ length: 3_000 }, (_, index) => `finding ${index} ☃`),
    work: [],
    parts: undefined,
    saltAddedLb: undefined,
    rawHardnessGpg: undefined,
    coldHardnessGpg: undefined,
    hotHardnessGpg: undefined,
    notes: 'x'.repeat(60_000),
  } as const;
  const writer = new FactWriter();
  for (const fact of [large, { ...visit, findings: [...visit.findings], work: [] }, large]) writer.fact(fact);
  const reader = new FactReader(writer.bytes);
  expect([reader.fact(), reader.fact(), reader.fact()]).toEqual([large, visit, large]);
});
