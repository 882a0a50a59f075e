/** The probabilities whose quantiles a backtest asks for: 5 to 95 % by 5. */
export const GRID: readonly number[] = Array.from({ length: 19 }, (_, index) => (index + 1) / 20);

/** Those that the loss is the mean of, as the goals of this project count it. */
export const LOSS_PERCENTS = [10, 50, 90] as const;

/** The central intervals whose coverage is counted, by the percentage that they should hold. */
const INTERVALS = [50, 80, 90] as const;
export type Interval = (typeof INTERVALS)[number];

/** Where the quantile of a percentage (5 to 95 by 5) stands on the grid. */
function placeOf(percent: number): number {
  return percent / 5 - 1;
}

/** A quantile on the grid by its percentage. */
export function quantileOf(quantiles: readonly number[], percent: number): number {
  return quantiles[placeOf(percent)] ?? Number.NaN;
}

/** The ends of the central interval that should hold a percentage. */
export function ends(quantiles: readonly number[], interval: Interval): { lower: number; upper: number } {
  return {
    lower: quantileOf(quantiles, 50 - interval / 2),
    upper: quantileOf(quantiles, 50 + interval / 2),
  };
}
