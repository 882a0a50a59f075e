import fc from 'fast-check';
import { expect, test } from 'vitest';
import { MEASURES } from '../../../../lib/advice/region/year.ts';
import { Chance } from '../../../../lib/simulation/chance.ts';
import { regionOf } from './region.ts';

const chance = new Chance(7, 3);
/** Homes of a region: no two use the same, or have the same bed and water. */
const HOMES = Array.from({ length: 16 }, () => {
  const mean = chance.gamma(160, 0.4);
  return {
    resin: chance.pick([1, 1.5, 2]),
    hardness: Math.round(chance.uniform(8, 25)),
    gallons: Array.from({ length: 182 }, () => chance.gamma(mean, 0.4)),
  };
});

test('a dose that differs by 0.2 % moves no measure beyond its interval, and hard-water days by next to nothing', () => {
  const dose = fc.oneof(fc.constantFrom(5.99, 6, 8, 10), fc.double({ min: 3.1, max: 14.9, noNaN: true }));
  fc.assert(
    fc.property(dose, fc.constantFrom(0.998, 1.002), (lb, factor) => {
      const one = regionOf(HOMES, { doseLbPerCubicFoot: lb }).estimates;
      const other = regionOf(HOMES, { doseLbPerCubicFoot: lb * factor }).estimates;
      for (const measure of MEASURES) {
        for (const side of ['imagined', 'difference'] as const) {
          const { low, high, value } = one?.[measure][side] ?? { low: 0, high: 0, value: 0 };
          const moved = other?.[measure][side].value ?? Number.NaN;
          expect(moved).toBeGreaterThanOrEqual(low - 1e-9);
          expect(moved).toBeLessThanOrEqual(high + 1e-9);
          // A regeneration is on one day or the next, which in half a year's days is two of a year's: a region moves by
          // less than that of each home. With capacities cut to whole thousands it is some twelve.
          if (measure === 'hardDays') expect(Math.abs(moved - value)).toBeLessThan(2 * HOMES.length);
        }
      }
    }),
    { numRuns: 30, examples: [[6, 0.998]] },
  );
});
