import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { RegionMonth } from '../../../lib/salt/regionMonths.ts';
import { saltCsv } from '../../../lib/salt/saltCsv.ts';
import { idSchema } from '../../../shared/ids.ts';

/** What a spreadsheet takes for a formula, by its first character (OWASP, CSV injection). */
const FORMULA = /^[=+\-@\t\r]/;
const NONE: Omit<RegionMonth, 'region'> = {
  ...{ month: '2026-03', units_reporting: 1, unit_days: 31, unit_days_missing: 0, regenerations: 4 },
  ...{ water_treated_gal: 5000.24, salt_used_lb: 24.005, salt_measured_share: 0.5, salt_inferred_share: 0.5 },
  ...{ regeneration_water_gal: 200, grains_removed: 90_000, grains_per_lb: null, chloride_lb: 14.5 },
};

it('has no text that a spreadsheet would work out: a region can begin with nothing but a letter or a digit', () => {
  const region = fc.oneof(
    fc.string({ unit: 'binary' }),
    fc.constantFrom('=1+1', '+1', '-1', '@sum', '\t=1', 'a=1', 'alder-county'),
  );
  fc.assert(
    fc.property(region, (name) => {
      if (!idSchema.safeParse(name).success) return;
      const [row] = parse(saltCsv([{ region: name, ...NONE }]), { columns: true });
      expect(row).toMatchObject({ region: name, month: '2026-03', grains_per_lb: '' });
      for (const cell of Object.values(row as Record<string, string>)) expect(cell).not.toMatch(FORMULA);
    }),
    { numRuns: 300 },
  );
  expect(idSchema.safeParse('=1+1').success).toBe(false);
});
