import type { Estimate } from './estimate.ts';

/** Between minus and plus so many standard deviations lies 80 % of a normal distribution: its 90 % point. */
export const Z_OF_80_PERCENT = 1.2816;

/** A value that is not known exactly, with the variance of its error: 0 or more. */
export interface Uncertain {
  readonly value: number;
  readonly variance: number;
}

/** Nothing is told over less than this: of salt, lb. */
const LEAST_LOWER = 0.01;
/** Beyond it a factor is as good as unknown; it keeps an interval a number. */
const MOST_LOG_DEVIATION = 5;

/**
 * A sum of many parts that are not known exactly, off by chance as a normal is, and its 80 % interval. The interval
 * always holds the value.
 *
 * @param least what it cannot be below: what was metered, or nothing; left out of what may be below 0
 */
export function estimateOf({ value, variance }: Uncertain, least = Number.NEGATIVE_INFINITY): Estimate {
  const reach = Z_OF_80_PERCENT * Math.sqrt(Math.max(0, variance));
  return { value, low: Math.min(value, Math.max(least, value - reach)), high: value + reach };
}

/** The same in another measure, of which there is so much to each of the first: 0 or more. Less than nothing is nothing. */
export function inProportion({ value, low, high }: Estimate, factor: number): Estimate {
  const scaled = (each: number) => Math.max(0, each) * factor;
  return { value: scaled(value), low: scaled(low), high: scaled(high) };
}

/** Adds up estimates, and their bounds, as if all were wrong in the same direction: rather too wide than too narrow. */
export function sumOfEstimates(estimates: readonly Estimate[]): Estimate {
  return estimates.reduce(
    (sum, { value, low, high }) => ({ value: sum.value + value, low: sum.low + low, high: sum.high + high }),
    { value: 0, low: 0, high: 0 },
  );
}

/**
 * A ratio of two amounts, neither known exactly, and its 80 % interval; null where the lower is next to nothing. The factor
 * by which it may be off is taken for lognormal, so that it is never below 0, with the relative variances of both. That
 * the two may be off together, and then the ratio less, is left out: the interval is rather too wide.
 */
export function ratioOf(upper: Uncertain, lower: Uncertain): Estimate | null {
  if (!(lower.value >= LEAST_LOWER)) return null;
  const value = upper.value / lower.value;
  if (!(upper.value > 0)) return { value, low: value, high: value };
  const relative = Math.hypot(
    Math.sqrt(Math.max(0, upper.variance)) / upper.value,
    Math.sqrt(Math.max(0, lower.variance)) / lower.value,
  );
  const factor = Math.exp(Math.min(MOST_LOG_DEVIATION, Z_OF_80_PERCENT * relative));
  return { value, low: value / factor, high: value * factor };
}
