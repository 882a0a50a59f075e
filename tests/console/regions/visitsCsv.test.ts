import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { visitsCsv } from '../../../console/regions/whatIf/visitsCsv.ts';

const estimate = fc.record({
  value: fc.double({ min: -900, max: 900, noNaN: true }),
  low: fc.double({ min: -900, max: 900, noNaN: true }),
  high: fc.double({ min: -900, max: 900, noNaN: true }),
});
const programmed = fc.record({
  capacityGrains: fc.integer({ min: 1, max: 60 }).map((thousands) => 1000 * thousands),
  hardnessGpg: fc.integer({ min: 1, max: 60 }),
});
const visits = fc.array(
  fc.record({
    unitId: fc.string({ minLength: 1 }),
    siteName: fc.option(fc.string()),
    region: fc.string({ minLength: 1 }),
    alertId: fc.constantFrom(null, 'setting-mismatch-1772000000000'),
    cause: fc.constantFrom(null, 'capacity-too-low' as const, 'hardness-too-low' as const),
    probability: fc.double({ min: 0, max: 1, noNaN: true }),
    programmed,
    set: programmed,
    saves: fc.record({ saltLb: estimate, chlorideLb: estimate, waterGallons: estimate, hardDays: estimate }),
  }),
  { minLength: 1, maxLength: 6 },
);

test('a CSV reader reads the visits back, whatever sites are called, with units in the headers', () => {
  fc.assert(
    fc.property(visits, (some) => {
      const text = visitsCsv(some);
      expect(text.endsWith('\r\n')).toBe(true);
      const rows: Record<string, string>[] = parse(text, { columns: true });
      expect(rows).toHaveLength(some.length);
      for (const [index, row] of rows.entries()) {
        const visit = some[index];
        expect(row).toMatchObject({ unit_id: visit?.unitId, site: visit?.siteName ?? '' });
        expect(Number(row.salt_saved_lb_a_year)).toBeCloseTo(visit?.saves.saltLb.value ?? 0, 0);
        expect(Number(row.hard_days_avoided_a_year_high)).toBeCloseTo(visit?.saves.hardDays.high ?? 0, 0);
        expect(Number(row.set_capacity_grains)).toBe(visit?.set.capacityGrains);
      }
    }),
  );
});
