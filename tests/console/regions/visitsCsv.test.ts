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
const id = fc.stringMatching(/^[a-z][a-z0-9-]{0,20}$/);
/** What a spreadsheet would work out: OWASP, CSV Injection (from memory). */
const FORMULA = /^[=+\-@\t\r\uff1d\uff0b\uff0d\uff20]/;
const visit = fc.record({
  unitId: id,
  siteName: fc.option(fc.string().filter((name) => !FORMULA.test(name))),
  region: id,
  alertId: fc.constantFrom(null, 'setting-mismatch-1772000000000'),
  cause: fc.constantFrom(null, 'capacity-too-low' as const, 'hardness-too-low' as const),
  probability: fc.double({ min: 0, max: 1, noNaN: true }),
  programmed,
  set: programmed,
  saves: fc.record({ saltLb: estimate, chlorideLb: estimate, waterGallons: estimate, hardDays: estimate }),
});
const visits = fc.array(visit, { minLength: 1, maxLength: 6 });

test('a CSV reader reads the visits back, whatever sites are called, with units in the headers', () => {
  fc.assert(
    fc.property(visits, (some) => {
      const text = visitsCsv(some);
      expect(text.endsWith('\r\n')).toBe(true);
      const rows: Record<string, string>[] = parse(text, { columns: true });
      expect(rows).toHaveLength(some.length);
      for (const [index, row] of rows.entries()) {
        const visit = some[index];
        expect(row).toMatchObject({ unit_id: visit?.unitId, site_name: visit?.siteName ?? '' });
        expect(Number(row.salt_saved_lb_a_year)).toBeCloseTo(visit?.saves.saltLb.value ?? 0, 0);
        expect(Number(row.hard_days_avoided_a_year_high)).toBeCloseTo(visit?.saves.hardDays.high ?? 0, 0);
        expect(Number(row.set_capacity_grains)).toBe(visit?.set.capacityGrains);
      }
    }),
  );
});

test('no spreadsheet works out what a site is called, and amounts below 0 stay numbers', () => {
  const told = (siteName: string) =>
    fc.assert(
      fc.property(visit, (any) => {
        const saltLb = { value: -5, low: -9.5, high: 1 };
        const text = visitsCsv([{ ...any, siteName, saves: { ...any.saves, saltLb } }]);
        const [row]: Record<string, string>[] = parse(text, { columns: true });
        expect(row).toMatchObject({ site_name: `'${siteName}` });
        expect(row).toMatchObject({ salt_saved_lb_a_year: '-5', salt_saved_lb_a_year_low: '-9.5' });
      }),
      { numRuns: 10 },
    );
  for (const name of ['=1+1', '+1', '-1', '@SUM(A1)']) told(name);
});
