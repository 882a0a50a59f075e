import type { LocalDate } from '../../shared/time/localDate.ts';
import { unitGammaQuantile } from './gamma.ts';
import { dayOf, expectedUse, type Household, homeUse, newHousehold } from './household.ts';
import { awayNext } from './regime.ts';
import { driftedVariance, nextSpread } from './scatter.ts';

/** Quantiles and mean of one day's use, gallons. */
export interface DayUse {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
  readonly mean: number;
}

/** Use to expect on the day after `lastCounted`, the last day folded into the household. */
export function nextDayUse(household: Household, lastCounted: LocalDate): DayUse {
  next.begin(household, lastCounted);
  const low = next.quantile(0.1);
  const middle = next.quantile(0.5);
  const high = next.quantile(0.9);
  const mean = expectedUse(household, lastCounted + 1);
  if (low <= middle && middle <= high) return { p10: low, p50: middle, p90: high, mean };
  const [p10 = 0, p50 = 0, p90 = 0] = inOrder([low, middle, high]);
  return { p10, p50, p90, mean };
}

/**
 * Quantiles of the use of the day after `lastCounted`, gallons: with some probability an away day, which draws nothing
 * or next to it, else a gamma about the use of a home day on that weekday.
 *
 * @param probabilities each above 0 and below 1, rising
 */
export function nextDayQuantiles(
  household: Household,
  lastCounted: LocalDate,
  probabilities: readonly number[],
): number[] {
  next.begin(household, lastCounted);
  return inOrder(probabilities.map((p) => next.quantile(p)));
}

/** Away days are taken to draw less than any day at home. Where some draw as much, the quantiles would cross. */
function inOrder(quantiles: number[]): number[] {
  return quantiles.sort((a, b) => a - b);
}

/** The day after the last one counted. */
class NextDay {
  private household = newHousehold();
  private away = 0;
  private home = 0;
  private cv = 0;

  begin(household: Household, lastCounted: LocalDate): void {
    const day = dayOf(household, lastCounted + 1);
    const levelVariance = driftedVariance(household, household.levelVariance);
    this.household = household;
    this.away = awayNext(household, day);
    this.home = homeUse(household, day);
    this.cv = homeDayDeviation(levelVariance, nextSpread(household));
  }

  quantile(p: number): number {
    const { away, home, cv } = this;
    return p < away
      ? awayQuantile(this.household, p / away)
      : home * unitGammaQuantile((p - away) / (1 - away), cv);
  }
}

/** Coefficient of variation of a home day, seen through an uncertain level. */
function homeDayDeviation(levelVariance: number, spread: number): number {
  return Math.sqrt((1 + levelVariance) * (1 + spread) - 1);
}

/** An away day draws nothing, or else an exponentially distributed trifle. */
function awayQuantile({ awayDry, awayUse }: Household, p: number): number {
  return p <= awayDry ? 0 : -awayUse * Math.log1p((awayDry - p) / (1 - awayDry));
}

/** One serves all, a household after the other. */
const next = new NextDay();
