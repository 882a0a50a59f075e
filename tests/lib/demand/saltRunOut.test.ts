import mt19937 from '@stdlib/random-base-mt19937';
import normalFactory from '@stdlib/random-base-normal';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { runOutDays, runOutProbability, type SaltAhead } from '../../../lib/demand/saltRunOut.ts';
import { DRAWN_HOMES, drawnHome, drawnPaths, LAST, PATHS } from '../../support/drawnHomes.ts';

/** Doses of 6 lb for 1,000 gallons, about a week. */
const TANK: SaltAhead = {
  lb: 20,
  deviationLb: 1.5,
  doseLb: 6,
  doseSpread: 0.15,
  untilNextGallons: 400,
  cycleGallons: 1000,
  pace: 1,
  paceSpread: 0.1,
};
const TANKS: readonly SaltAhead[] = [
  TANK,
  { ...TANK, lb: 3, untilNextGallons: 900 },
  { ...TANK, lb: 60, deviationLb: 0.5, cycleGallons: 400, doseSpread: 0.05 },
  { ...TANK, lb: 12, deviationLb: 3, untilNextGallons: 0, pace: 1.2, paceSpread: 0.2 },
  { ...TANK, lb: 6, deviationLb: 0.3, paceSpread: 0.02, untilNextGallons: 150 },
];

/** The first day on which a regeneration finds less salt than its dose, dose by dose. */
function drawnRunOuts(paths: readonly number[][], salt: SaltAhead): (number | undefined)[] {
  const whole = mt19937.factory({ seed: 1847 });
  const normal = normalFactory.factory(0, 1, { prng: () => (whole() - 1) / 2 ** 32 });
  return paths.map((days) => {
    let lb = salt.lb + salt.deviationLb * normal();
    const pace = salt.pace * Math.exp(salt.paceSpread * normal());
    let left = salt.untilNextGallons;
    for (const [index, gallons] of days.entries()) {
      left -= pace * gallons;
      while (left <= 0) {
        lb -= salt.doseLb * (1 + salt.doseSpread * normal());
        if (lb < 0) return index + 1;
        left += salt.cycleGallons;
      }
    }
    return undefined;
  });
}

describe('salt run-out', () => {
  it.each(DRAWN_HOMES.map((home, index) => [index, home] as const))(
    'is as likely as in days and doses drawn one by one, home %d',
    (_, home) => {
      const paths = drawnPaths(home);
      const errors = TANKS.flatMap((tank) => {
        const drawn = drawnRunOuts(paths, tank);
        return [1, 2, 4, 7, 12, 21, 35, 60, 90].map((days) => {
          const share = drawn.filter((day) => day !== undefined && day <= days).length / PATHS;
          return Math.abs(runOutProbability(home, LAST, tank, days) - share);
        });
      });
      expect(errors.reduce((sum, each) => sum + each, 0) / errors.length).toBeLessThan(0.01);
      expect(Math.max(...errors)).toBeLessThan(0.04);
    },
  );

  it('has its quantiles where its probability passes them, later with more salt', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...DRAWN_HOMES),
        fc.record({
          lb: fc.double({ min: 0, max: 80, noNaN: true }),
          more: fc.double({ min: 0, max: 20, noNaN: true }),
        }),
        (home, { lb, more }) => {
          const tank = { ...TANK, lb };
          const days = runOutDays(home, LAST, tank);
          for (const [p, day] of [
            [0.1, days.p10],
            [0.5, days.p50],
            [0.9, days.p90],
          ] as const) {
            if (day === null) {
              expect(runOutProbability(home, LAST, tank, 365)).toBeLessThan(p);
              continue;
            }
            expect(runOutProbability(home, LAST, tank, day)).toBeGreaterThanOrEqual(p);
            expect(runOutProbability(home, LAST, tank, day - 1)).toBeLessThan(p);
          }
          const later = runOutDays(home, LAST, { ...tank, lb: lb + more });
          expect(later.p50 ?? 366).toBeGreaterThanOrEqual((days.p50 ?? 366) - 1);
        },
      ),
    );
  });

  it('is beyond a year for a tank that lasts longer', () => {
    const never = { p10: null, p50: null, p90: null };
    expect(runOutDays(drawnHome(0.5), LAST, { ...TANK, lb: 1000 })).toEqual(never);
  });
});
