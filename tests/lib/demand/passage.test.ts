import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type BedAhead,
  exhaustionDays,
  overrunProbability,
  regenerationDays,
} from '../../../lib/demand/passage.ts';
import { DRAWN_HOMES, drawnHome, drawnPaths, LAST, PATHS } from '../../support/drawnHomes.ts';

const CONTROL = { lastSevenDays: [150, 170, 120, 160, 140, 155, 150], shareBeforeHour: 0.042, reserve: true };

/** On which morning (1 is the next) the control regenerates, and whether the bed had run out by then. */
function race(days: readonly number[], bed: BedAhead) {
  let used = 0;
  let overrun = false;
  const week = [...bed.lastSevenDays];
  for (const [index, use] of days.entries()) {
    const byHour = used + bed.shareBeforeHour * use;
    overrun ||= byHour >= bed.remainingGallons;
    if (bed.believedGallons - byHour <= week.slice(-7).reduce((sum, each) => sum + each, 0) / 7) {
      return { morning: index + 1, overrun };
    }
    used += use;
    week.push(use);
  }
  return { morning: undefined, overrun };
}

/** Share of the paths on which something has happened by a day. */
function shareBy(days: readonly (number | undefined)[], by: number): number {
  return days.filter((day) => day !== undefined && day <= by).length / days.length;
}

/** The middle of the days is the first by which half have come; the tails are a tenth in the middle of their days. */
function expectQuantiles(
  { p10, p50, p90 }: { p10: number | null; p50: number | null; p90: number | null },
  days: (number | undefined)[],
) {
  const error = 0.05;
  if (p10 === null || p50 === null || p90 === null) throw new Error('it comes within a year');
  const around = (day: number) => (shareBy(days, day - 1) + shareBy(days, day)) / 2;
  expect(shareBy(days, p50)).toBeGreaterThan(0.5 - error);
  expect(shareBy(days, p50 - 1)).toBeLessThan(0.5 + error);
  if (p10 < p50) expect(around(p10)).toBeGreaterThan(0.1 - error);
  expect(around(p10 - 1)).toBeLessThan(0.1 + error);
  if (p90 > p50) expect(around(p90)).toBeLessThan(0.9 + error);
  expect(around(p90 + 1)).toBeGreaterThan(0.9 - error);
}

describe('against the same model drawn day by day', () => {
  it.each(DRAWN_HOMES.map((home, index) => [index, home] as const))(
    'home %d: exhaustion, next regeneration and overrun',
    (_, home) => {
      const drawn = drawnPaths(home);
      for (const remaining of [100, 400, 900, 2000]) {
        const exhausted = drawn.map((days) => {
          let used = 0;
          const index = days.findIndex((use) => {
            used += use;
            return used >= remaining;
          });
          return index < 0 ? undefined : index + 1;
        });
        expectQuantiles(exhaustionDays(home, LAST, remaining), exhausted);
      }
      const errors: number[] = [];
      for (const busy of [0.7, 1, 1.5]) {
        const control = { ...CONTROL, lastSevenDays: CONTROL.lastSevenDays.map((use) => busy * use) };
        for (const remainingGallons of [100, 180, 370, 670, 1500]) {
          for (const factor of [0.75, 1, 1.25]) {
            const bed = { ...control, remainingGallons, believedGallons: factor * remainingGallons };
            const raced = drawn.map((days) => race(days, bed));
            const overrun = raced.filter((each) => each.overrun).length / PATHS;
            errors.push(Math.abs(overrunProbability(home, LAST, bed) - overrun));
            const mornings = raced.map(({ morning }) => morning);
            expectQuantiles(regenerationDays(home, LAST, bed), mornings);
          }
        }
      }
      // The bounds are those of the approximation, not of the drawing: see `overrunProbability`.
      expect(errors.reduce((sum, each) => sum + each, 0) / errors.length).toBeLessThan(0.02);
      expect(Math.max(...errors)).toBeLessThan(0.08);
    },
  );
});

describe('days to come', () => {
  const anyHome = fc
    .tuple(fc.integer({ min: 25, max: 70 }), fc.constantFrom(0, 0.4, 1))
    .map(([cv, away]) => drawnHome(cv / 100, { away }));

  it('are in order, later for more water, and at once where nothing remains', () => {
    fc.assert(
      fc.property(
        anyHome,
        fc.integer({ min: 1, max: 8000 }),
        fc.integer({ min: 0, max: 500 }),
        (home, gallons, more) => {
          const { p10, p50, p90 } = exhaustionDays(home, LAST, gallons);
          expect(p10 ?? 366).toBeLessThanOrEqual(p50 ?? 366);
          expect(p50 ?? 366).toBeLessThanOrEqual(p90 ?? 366);
          expect(exhaustionDays(home, LAST, gallons + more).p50 ?? 366).toBeGreaterThanOrEqual(
            (p50 ?? 366) - 1,
          );
          const bed = { ...CONTROL, believedGallons: gallons, remainingGallons: gallons + more };
          const overrun = overrunProbability(home, LAST, bed);
          expect(overrun).toBeGreaterThanOrEqual(0);
          expect(overrun).toBeLessThanOrEqual(1);
        },
      ),
    );
    expect(exhaustionDays(drawnHome(0.5), LAST, 0)).toEqual({ p10: 0, p50: 0, p90: 0 });
    const never = { p10: null, p50: null, p90: null };
    expect(exhaustionDays(drawnHome(0.5), LAST, 1e6)).toEqual(never);
    expect(regenerationDays(drawnHome(0.5), LAST, { ...CONTROL, believedGallons: 1e6 })).toEqual(never);
  });

  it('wait for an absent household whose next day decides', () => {
    const home = drawnHome(0.5, { away: 1 });
    const bed = { ...CONTROL, shareBeforeHour: 0.3, believedGallons: 160 };
    const mornings = drawnPaths(home).map((days) => race(days, { ...bed, remainingGallons: 160 }).morning);
    expectQuantiles(regenerationDays(home, LAST, bed), mornings);
  });

  it('hold no overrun where the control is due at once, though the household is away', () => {
    const bed = { ...CONTROL, believedGallons: 80, remainingGallons: 80 };
    expect(regenerationDays(drawnHome(0.5, { away: 1 }), LAST, bed).p90).toBe(1);
    expect(overrunProbability(drawnHome(0.5, { away: 1 }), LAST, bed)).toBeLessThan(0.05);
  });
});
