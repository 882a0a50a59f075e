import fc from 'fast-check';
import { expect, test } from 'vitest';
import { monthNames, regionsOf, together, yearBefore } from '../../../console/regions/months.ts';
import { dayShares, saltShares } from '../../../console/regions/shares.ts';
import { wholeness } from '../../../console/regions/whole.ts';

const amount = fc.double({ min: 0, max: 1e7, noNaN: true });
const month = fc
  .tuple(fc.integer({ min: 1970, max: 2400 }), fc.integer({ min: 1, max: 12 }))
  .map(([year, number]) => `${year}-${String(number).padStart(2, '0')}`);

/** A row as the service tells it: shares of the salt that make up 1, or none where there was no salt. */
const row = fc
  .record({
    region: fc.constantFrom('north', 'south', 'west'),
    month,
    units_reporting: fc.nat(1000),
    unit_days: fc.nat(31_000),
    unit_days_missing: fc.nat(31_000),
    regenerations: fc.nat(5000),
    water_treated_gal: amount,
    salt_used_lb: amount,
    regeneration_water_gal: amount,
    grains_removed: amount,
    chloride_lb: amount,
    measured: fc.double({ min: 0, max: 1, noNaN: true }),
  })
  .map(({ measured, ...rest }) => ({
    ...rest,
    salt_measured_share: rest.salt_used_lb > 0 ? measured : null,
    salt_inferred_share: rest.salt_used_lb > 0 ? 1 - measured : null,
    grains_per_lb: rest.salt_used_lb > 0 ? rest.grains_removed / rest.salt_used_lb : null,
  }));
const rows = fc.uniqueArray(row, { selector: (each) => `${each.region} ${each.month}`, maxLength: 40 });

const sumOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0);

test('nothing is lost or made when rows become regions, and regions one', () => {
  fc.assert(
    fc.property(rows, (told) => {
      const regions = regionsOf(told);
      const all = together(regions);
      expect(all.map((sum) => sum.month)).toEqual(monthNames(regions));
      expect(sumOf(all.map(({ daysReported }) => daysReported))).toBe(
        sumOf(told.map((each) => each.unit_days)),
      );
      expect(sumOf(all.map((sum) => sum.saltMeasuredLb + sum.saltInferredLb))).toBeCloseTo(
        sumOf(told.map(({ salt_used_lb }) => salt_used_lb)),
        3,
      );
      for (const { months } of regions) {
        const names = months.map((sum) => sum.month);
        expect(names).toEqual([...names].sort());
      }
    }),
  );
});

test('shares are of what was owed and make up 1', () => {
  fc.assert(
    fc.property(rows, (told) => {
      for (const sum of together(regionsOf(told))) {
        for (const shares of [saltShares(sum), dayShares(sum)]) {
          if (sum.daysReported + sum.daysMissing === 0) expect(shares).toBeUndefined();
          else if (shares) {
            const { measured, inferred, missing } = shares;
            expect(measured + inferred + missing).toBeCloseTo(1, 9);
            expect(Math.min(measured, inferred, missing)).toBeGreaterThanOrEqual(0);
            expect(missing).toBeCloseTo(sum.daysMissing / (sum.daysReported + sum.daysMissing), 9);
          } else expect.fail('something is owed, and no shares of it are told');
        }
      }
    }),
  );
});

test('a month runs until it is over everywhere, and is whole after that if all of its days are owed', () => {
  fc.assert(
    fc.property(month, fc.integer({ min: 1, max: 500 }), (name, units) => {
      const [year = 0, number = 0] = name.split('-').map(Number);
      const days = (Date.UTC(year, number) - Date.UTC(year, number - 1)) / 86_400_000;
      const [sum] = together(
        regionsOf([
          {
            ...{ region: 'north', month: name, units_reporting: units, regenerations: 0, grains_removed: 0 },
            ...{ unit_days: days * units, unit_days_missing: 0, water_treated_gal: 0, salt_used_lb: 0 },
            ...{ salt_measured_share: null, salt_inferred_share: null, regeneration_water_gal: 0 },
            ...{ grains_per_lb: null, chloride_lb: 0 },
          },
        ]),
      );
      // The last place on Earth is 12 hours behind.
      const over = Date.UTC(year, number) + 12 * 3_600_000;
      expect(sum && wholeness(sum, over - 1)).toBe('running');
      expect(sum && wholeness(sum, over)).toBe('whole');
      expect(sum && wholeness({ ...sum, daysReported: units }, over)).toBe('begun-within');
    }),
  );
});

test('the year before has the same month', () => {
  fc.assert(
    fc.property(month, (name) => {
      expect(yearBefore(name).slice(4)).toBe(name.slice(4));
      expect(Number(yearBefore(name).slice(0, 4))).toBe(Number(name.slice(0, 4)) - 1);
    }),
  );
});
