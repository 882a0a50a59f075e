import type { LocalDate } from '../../shared/time/localDate.ts';
import { unitGammaQuantile } from './gamma.ts';
import { dayOf, expectedUse, type Household, homeUse } from './household.ts';
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
  const [p10 = 0, p50 = 0, p90 = 0] = nextDayQuantiles(household, lastCounted, [0.1, 0.5, 0.9]);
  return { p10, p50, p90, mean: expectedUse(household, lastCounted + 1) };
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
  const day = dayOf(household, lastCounted + 1);
  const away = awayNext(household, day);
  const home = homeUse(household, day);
  const levelVariance = driftedVariance(household, household.levelVariance);
  const cv = homeDayDeviation(levelVariance, nextSpread(household));
  const quantile = (p: number) =>
    p < away ? awayQuantile(household, p / away) : home * unitGammaQuantile((p - away) / (1 - away), cv);
  // Away days are taken to draw less than any day at home. Where some draw as much, the quantiles would cross.
  return probabilities.map(quantile).sort((a, b) => a - b);
}

/** Coefficient of variation of a home day, seen through an uncertain level. */
function homeDayDeviation(levelVariance: number, spread: number): number {
  return Math.sqrt((1 + levelVariance) * (1 + spread) - 1);
}

/** An away day draws nothing, or else an exponentially distributed trifle. */
function awayQuantile({ awayDry, awayUse }: Household, p: number): number {
  return p <= awayDry ? 0 : -awayUse * Math.log1p((awayDry - p) / (1 - awayDry));
}
