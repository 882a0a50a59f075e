import { pinball } from '../scores.ts';

/**
 * Continuous ranked probability score from quantiles on an even grid that leaves out 0 and 1. The score is twice the
 * integral of the pinball loss over all probabilities (Gneiting & Raftery 2007); this is its trapezoid rule, the loss
 * being nothing at both ends. Of a standard normal and 19 quantiles it is within 1.5 % for what lies up to two standard
 * deviations away. (Twice the plain mean of the losses, as often taken, is 3 to 5 % more.)
 */
export function crpsOfQuantiles(
  probabilities: readonly number[],
  quantiles: readonly number[],
  actual: number,
): number {
  const losses = probabilities.map((p, index) => pinball(p, quantiles[index] ?? Number.NaN, actual));
  return (2 * losses.reduce((sum, each) => sum + each, 0)) / (probabilities.length + 1);
}

/**
 * Where among its forecast quantiles a value came, as shares (of sum 1) of the bins between them: the first below the
 * lowest quantile, the last above the highest. A value that equals quantiles, as a day without use may, is spread over
 * the bins that they bound (the non-randomised histogram of Czado, Gneiting & Held 2009; from memory, unverified).
 *
 * @param quantiles rising
 */
export function binShares(quantiles: readonly number[], actual: number): number[] {
  const shares = Array.from({ length: quantiles.length + 1 }, () => 0);
  const below = quantiles.filter((each) => each < actual).length;
  const upTo = quantiles.filter((each) => each <= actual).length;
  // Nothing lies below no use at all, so that the first bin is wholly of such days.
  const first = below === 0 && actual === 0 && upTo > 0 ? 1 : 0.5;
  const whole = first + upTo - below - 0.5;
  for (let bin = below; bin <= upTo; bin++) {
    const weight = bin === below ? first : bin === upTo ? 0.5 : 1;
    shares[bin] = below === upTo ? 1 : weight / whole;
  }
  return shares;
}
