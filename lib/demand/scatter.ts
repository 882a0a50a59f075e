import type { Household } from './household.ts';
import { short } from './short.ts';

/*
 * How far home days lie about what is expected of them, one by one and together, and how the level wanders.
 */

/** Daily wandering of the level, as a share of the spread: the gain settles at about 0.06. */
const DRIFT = 0.004;
/** Beyond this variance a level is as good as unknown (between homes it is about 0.4). */
export const LEVEL_VARIANCE_MAX = 0.4;
/** After an odd day comes a less certain one: how much of its square, in variances and up to so many, goes on. Likewise. */
const UNREST = 0.1;
const UNREST_MOST = 6;
/** Gain of the strain. */
export const STRAIN_GAIN = 0.15;
/** Variance of the strain where the deviations are independent of each other. */
const STRAIN_VARIANCE = STRAIN_GAIN / (2 - STRAIN_GAIN);
/** The variance ratio: its bounds, what one day may say, and its memory. From the homes of fixtures/, rounded. */
const RATIO = { least: 0.3, most: 3, mostAtOnce: 9, memoryDays: 90 } as const;
/** Days after which half of the variance ratio shows in a sum. Likewise. */
const TOGETHER_DAYS = 4;

/** The spread of the next day if it is a home day. What the last day was like tells of the next alone. */
export function nextSpread({ spread, away, lastShare }: Household): number {
  if (away > 0.5 || lastShare === null) return spread;
  const off = lastShare - 1;
  const square = Math.min((off * off) / spread, UNREST_MOST);
  return spread * (1 + UNREST * (square - 1));
}

/** Variance of the belief about the level (or about any later day's, given its own) a day further on. */
export function driftedVariance({ spread, varianceRatio }: Household, levelVariance: number): number {
  return Math.min(levelVariance + DRIFT * varianceRatio * spread, LEVEL_VARIANCE_MAX);
}

/** By how much the variance of `days` days of use together exceeds that of as many independent ones. */
export function togetherFactor({ varianceRatio }: Household, days: number): number {
  return 1 + ((varianceRatio - 1) * (days - 1)) / (days - 1 + TOGETHER_DAYS);
}

/** The variance ratio after a day: the strain is a mean of deviations, so its square tells how far they come together. */
export function learnRatio(ratio: number, strain: number): number {
  const square = Math.min((strain * strain) / STRAIN_VARIANCE, RATIO.mostAtOnce);
  const next = ratio + (square - ratio) / RATIO.memoryDays;
  return short(Math.min(Math.max(next, RATIO.least), RATIO.most));
}
