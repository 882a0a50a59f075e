import gammaFactory from '@stdlib/random-base-gamma';
import mt19937 from '@stdlib/random-base-mt19937';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { awayNext, type Household, newHousehold } from '../../../lib/demand/household.ts';
import { exhaustionDays, overrunProbability, regenerationDays } from '../../../lib/demand/passage.ts';
import { weekdayOf } from '../../../shared/time/localDate.ts';

const LAST = 20_089;
const PATHS = 4000;
const HORIZON = 90;

/** A household whose level is known: then the model's days are independent given the regimes, and easy to draw. */
function household(cv: number, over: Partial<Household> = {}): Household {
  return {
    ...newHousehold(),
    level: 150,
    levelVariance: 1e-9,
    spread: cv * cv,
    weekday: [1.2, 0.9, 0.9, 0.95, 0.95, 0.95, 1.15],
    away: 0,
    awayUse: 0,
    awayDry: 1,
    leaving: new Array(7).fill(0.03),
    returning: new Array(7).fill(0.35),
    ...over,
  };
}

/** Draws the days to come by the model as it is stated, day by day. */
function paths(home: Household): number[][] {
  const whole = mt19937.factory({ seed: 4711 });
  const uniform = () => (whole() - 1) / 0xffff_ffff;
  const shape = 1 / home.spread;
  const gamma = gammaFactory.factory(shape, shape, { prng: uniform });
  return Array.from({ length: PATHS }, () => {
    let away = uniform() < home.away ? 1 : 0;
    return Array.from({ length: HORIZON }, (_, index) => {
      const day = weekdayOf(LAST + index + 1);
      away = uniform() < awayNext(home, away, day) ? 1 : 0;
      return away ? 0 : home.level * (home.weekday[day] ?? 1) * gamma();
    });
  });
}

const HOMES = [
  household(0.3),
  household(0.5),
  household(0.6, { leaving: new Array(7).fill(0.08) }),
  household(0.5, { away: 1 }),
];
const CONTROL = { lastSevenDays: [150, 170, 120, 160, 140, 155, 150], shareBeforeHour: 0.042, reserve: true };

/** Per path the morning (1 is the next) on which the control regenerates, and whether the bed had run out by then. */
function race(days: readonly number[], believed: number, remaining: number) {
  let used = 0;
  const week = [...CONTROL.lastSevenDays];
  for (const [index, use] of days.entries()) {
    const reserve = week.slice(-7).reduce((sum, each) => sum + each, 0) / 7;
    const byHour = used + CONTROL.shareBeforeHour * use;
    if (byHour >= remaining) return { morning: undefined, overrun: true };
    if (believed - byHour <= reserve) return { morning: index + 1, overrun: false };
    used += use;
    week.push(use);
    if (used >= remaining) return { morning: undefined, overrun: true };
  }
  return { morning: undefined, overrun: false };
}

/** Share of the paths on which something has happened by a day. */
function shareBy(days: readonly (number | undefined)[], by: number): number {
  return days.filter((day) => day !== undefined && day <= by).length / days.length;
}

/** A quantile is the first day by which its share is reached, within an error of the share. */
function expectQuantiles(
  got: { p10: number | null; p50: number | null; p90: number | null },
  days: (number | undefined)[],
) {
  const error = 0.05;
  for (const [p, day] of [
    [0.1, got.p10],
    [0.5, got.p50],
    [0.9, got.p90],
  ] as const) {
    expect(day).not.toBeNull();
    expect(shareBy(days, day ?? 0)).toBeGreaterThan(p - error);
    expect(shareBy(days, (day ?? 0) - 1)).toBeLessThan(p + error);
  }
}

describe('against the same model drawn day by day', () => {
  it.each(HOMES.map((home, index) => [index, home] as const))(
    'home %d: exhaustion, next regeneration and overrun',
    (_, home) => {
      const drawn = paths(home);
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
      for (const believed of [300, 700, 1500]) {
        const control = { ...CONTROL, believedGallons: believed };
        const never = drawn.map((days) => race(days, believed, Number.POSITIVE_INFINITY).morning);
        expectQuantiles(regenerationDays(home, LAST, control), never);
        for (const factor of [0.9, 1, 1.2]) {
          const remainingGallons = believed * factor;
          const overrun =
            drawn.filter((days) => race(days, believed, remainingGallons).overrun).length / PATHS;
          expect(
            Math.abs(overrunProbability(home, LAST, { ...control, remainingGallons }) - overrun),
          ).toBeLessThan(0.07);
        }
      }
    },
  );
});

describe('days to come', () => {
  const anyHome = fc
    .tuple(fc.integer({ min: 25, max: 70 }), fc.constantFrom(0, 0.4, 1))
    .map(([cv, away]) => household(cv / 100, { away }));

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
    expect(exhaustionDays(household(0.5), LAST, 0)).toEqual({ p10: 0, p50: 0, p90: 0 });
    expect(exhaustionDays(household(0.5), LAST, 1e6)).toEqual({ p10: null, p50: null, p90: null });
  });
});
