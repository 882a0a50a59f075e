import fc from 'fast-check';
import { expect, test } from 'vitest';
import { emptyDraft } from '../../../console/brief/findings/draft.ts';
import { faultOf, reportOf } from '../../../console/brief/findings/report.ts';
import { dataSchemas } from '../../../shared/events.ts';

const AROUND = {
  technician: 'tech-4',
  time: '2026-03-20T15:00:00Z',
  visitId: undefined,
} as const;
const schema = dataSchemas['brinebell.service-visit.v1'];

test('whatever is filled in makes a report that the contract takes', () => {
  const line = fc.string({ minLength: 1, maxLength: 60 });
  const typed = fc.oneof(
    fc.constant(''),
    fc.double({ min: 0, max: 99_999, noNaN: true }).map((value) => value.toFixed(2)),
    fc.nat(500).map((value) => `${value},5`),
  );
  const draft = fc.record({
    findings: fc.array(fc.constantFrom('meter-stalled', 'tank-empty', 'nothing-found')),
    otherFindings: fc.array(line).map((lines) => lines.join('\n')),
    work: fc.array(line).map((lines) => lines.join('\n')),
    parts: fc.array(fc.constantFrom('turbine', 'test kit'), { maxLength: 4 }),
    otherParts: fc.array(line, { maxLength: 4 }).map((lines) => lines.join('\n')),
    ...{ saltAdded: typed, rawHardness: typed, coldHardness: typed, hotHardness: typed },
    saltUnit: fc.constantFrom('lb' as const, 'kg' as const),
    hardnessUnit: fc.constantFrom('gpg' as const, 'mg/L' as const, '°dH' as const),
    notes: fc.string({ maxLength: 300 }),
  });
  fc.assert(
    fc.property(draft, (given) => {
      const { time: _, ...data } = reportOf(given, AROUND);
      expect(schema.safeParse(data).error?.issues).toBeUndefined();
      expect(data.saltAdded === undefined).toBe(given.saltAdded === '');
      expect(data.hotHardness === undefined).toBe(given.hotHardness === '');
    }),
  );
});

test('degrees are sent as mg/L of calcium carbonate', () => {
  const report = reportOf({ ...emptyDraft('metric'), coldHardness: '1', hardnessUnit: '°dH' }, AROUND);
  // One German degree is 0.1783 mmol/L of calcium and magnesium (DIN 38409-6, from memory, unverified); that of
  // calcium carbonate weighs 100.0869 g/mol.
  expect(report.coldHardness?.unit).toBe('mg/L');
  expect((report.coldHardness?.value ?? 0) / 100.0869).toBeCloseTo(0.1783, 4);
});

test('what cannot be is asked about before it is sent', () => {
  const found = { ...emptyDraft('us'), findings: ['nothing-found'] };
  expect(faultOf({ ...found, rawHardness: '99999' })).toContain('gpg');
  expect(faultOf({ ...found, hotHardness: '2500', hardnessUnit: 'mg/L' })).toBeUndefined();
  expect(faultOf({ ...found, hotHardness: '2600', hardnessUnit: 'mg/L' })).toContain('152 gpg');
  expect(faultOf({ ...found, saltAdded: '300', saltUnit: 'kg' })).toContain('661 lb');
  expect(faultOf({ ...found, saltAdded: '300' })).toBeUndefined();
});

test('an empty report is none', () => {
  expect(faultOf(emptyDraft('us'))).toBeDefined();
  expect(faultOf({ ...emptyDraft('us'), notes: 'nobody was at home' })).toBeDefined();
  expect(faultOf({ ...emptyDraft('us'), findings: ['nothing-found'] })).toBeUndefined();
  expect(faultOf({ ...emptyDraft('us'), work: 'salt broken up' })).toBeUndefined();
});
