import gammaFactory from '@stdlib/random-base-gamma';
import mt19937 from '@stdlib/random-base-mt19937';
import normalFactory from '@stdlib/random-base-normal';
import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { unitGammaQuantile } from '../../lib/demand/gamma.ts';
import { type Household, newHousehold } from '../../lib/demand/household.ts';
import { leavingAfter, returningAfter } from '../../lib/demand/regime.ts';
import { driftedVariance, nextSpread, togetherFactor } from '../../lib/demand/scatter.ts';
import { weekdayOf } from '../../shared/time/localDate.ts';

/*
 * Households whose days to come are drawn one by one, by the model as it is stated: what its sums, in closed form, are
 * held to.
 */

/** The last day counted of each. */
export const LAST = 20_089;
export const PATHS = 4000;
const HORIZON = 90;

/** A household of 150 gallons a day whose level is known today, and wanders from then on. */
export function drawnHome(cv: number, over: Partial<Household> = {}): Household {
  return {
    ...newHousehold(),
    level: 150,
    levelVariance: 1e-9,
    spread: cv * cv,
    weekday: [1.2, 0.9, 0.9, 0.95, 0.95, 0.95, 1.15],
    away: 0,
    awayUse: 0,
    awayDry: 1,
    leaving: everyDay(0.03),
    returning: everyDay(0.35),
    ...over,
  };
}

/** Of every kind that the model tells apart. */
export const DRAWN_HOMES = [
  drawnHome(0.3),
  drawnHome(0.5),
  drawnHome(0.6, { leaving: everyDay(0.08) }),
  drawnHome(0.5, { away: 1 }),
  drawnHome(0.45, { levelVariance: 0.06, leaving: everyDay(0.08), awayUse: 2, awayDry: 0.5 }),
  drawnHome(0.35, { levelVariance: 0.03, away: 1, awayUse: 2, awayDry: 0.5 }),
  drawnHome(0.5, { away: 1, awayDays: 12 }),
  drawnHome(0.4, { lastShare: 0.3, leaving: everyDay(0.08) }),
  drawnHome(0.4, { lastShare: 2.1, levelVariance: 0.02 }),
  drawnHome(0.45, { varianceRatio: 2.2 }),
  drawnHome(0.45, { varianceRatio: 0.5, leaving: everyDay(0.06) }),
];

/** Draws PATHS times the use of the next 90 days, gallons. */
export function drawnPaths(home: Household): number[][] {
  const whole = mt19937.factory({ seed: 4711 });
  const uniform = () => (whole() - 1) / 2 ** 32;
  const normal = normalFactory.factory(0, 1, { prng: uniform });
  const believed = gammaFactory.factory(1 / home.levelVariance, 1 / home.levelVariance, { prng: uniform });
  const step = Math.sqrt(driftedVariance(home, 0));
  const root = choleskyRoot(autocovariances(home));
  return Array.from({ length: PATHS }, () => {
    let awayDays = uniform() < home.away ? Math.max(home.awayDays, 1) : 0;
    let level = believed();
    const shocks = Array.from({ length: HORIZON }, normal);
    return shocks.map((_, index) => {
      const weekday = weekdayOf(LAST + index + 1);
      const last = index === 0 ? home : { ...home, lastShare: null };
      const changes = awayDays > 0 ? returningAfter(home, awayDays, weekday) : leavingAfter(last, weekday);
      awayDays = uniform() < changes === awayDays > 0 ? 0 : awayDays + 1;
      level = Math.max(level + step * normal(), 0);
      if (awayDays > 0) return uniform() < home.awayDry ? 0 : -home.awayUse * Math.log(1 - uniform());
      const row = root[index] as number[];
      const deviate = row.reduce((sum, weight, at) => sum + weight * (shocks[at] as number), 0);
      const cv = Math.sqrt(index === 0 ? nextSpread(home) : home.spread);
      const share = unitGammaQuantile(normalCdf(deviate, 0, 1), cv);
      return home.level * level * (home.weekday[weekday] as number) * share;
    });
  });
}

/** How a day's deviation goes with that of the h-th day after it, from the variances of their sums. */
function autocovariances(home: Household): number[] {
  const ofSum = (days: number) => (days === 0 ? 0 : days * togetherFactor(home, days));
  return Array.from({ length: HORIZON }, (_, lag) =>
    lag === 0 ? 1 : (ofSum(lag + 1) - 2 * ofSum(lag) + ofSum(lag - 1)) / 2,
  );
}

/** The lower triangle by which independent deviates come to go with each other so (Cholesky). */
function choleskyRoot(covariances: readonly number[]): number[][] {
  const root: number[][] = [];
  for (let i = 0; i < covariances.length; i++) {
    const row: number[] = [];
    for (let j = 0; j <= i; j++) {
      const other = j === i ? row : (root[j] as number[]);
      const shared = row.slice(0, j).reduce((sum, each, at) => sum + each * (other[at] as number), 0);
      const rest = (covariances[i - j] as number) - shared;
      row.push(j === i ? Math.sqrt(rest) : rest / (other[j] as number));
    }
    root.push(row);
  }
  return root;
}

function everyDay(rate: number): number[] {
  return new Array<number>(7).fill(rate);
}
