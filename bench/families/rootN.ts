/**
 * Quantiles of the sum of `days` days from the mean and the quantiles of one, as if days were independent and their sum
 * of the same shape: what one does for want of anything better.
 */
export function rootN(days: number, mean: number, quantiles: readonly number[]): number[] {
  return quantiles.map((each) => Math.max(0, days * mean + Math.sqrt(days) * (each - mean)));
}
