/** Quantiles are found to this share of the mean: far below what a meter tells. */
const PRECISION = 1e-4;
const MOST_STEPS = 60;
/** A sum beyond so many means is not looked for. */
const MOST_MEANS = 1e6;

/**
 * Quantiles of an amount that is never negative, by its probability of reaching a value: false position, the end that
 * stays weighing half as much each time (the Illinois rule), from one quantile up to the next.
 *
 * @param reaches probability that the amount is at least so much, falling
 * @param probabilities each above 0 and below 1, rising
 * @param mean of the amount: where to look first
 * @returns one for each, none below the one before; 0 where the amount is nothing with that probability
 */
export function invert(
  reaches: (amount: number) => number,
  probabilities: readonly number[],
  mean: number,
): number[] {
  const precision = PRECISION * mean;
  if (!(precision > 0)) return probabilities.map(() => 0);
  let low = precision;
  let belowLow = 1 - reaches(low);
  return probabilities.map((p) => {
    if (p <= belowLow) return low === precision ? 0 : low;
    let [high, belowHigh] = [Math.max(low * 1.2, mean / 4), 0];
    for (belowHigh = 1 - reaches(high); belowHigh < p && high < MOST_MEANS * mean; ) {
      [low, belowLow] = [high, belowHigh];
      high *= 1.3;
      belowHigh = 1 - reaches(high);
    }
    const found = falsePosition(
      (amount) => 1 - reaches(amount) - p,
      [low, belowLow - p],
      [high, belowHigh - p],
      precision,
    );
    [low, belowLow] = [found, Math.max(p, belowLow)];
    return found;
  });
}

/** The root of a rising function between a point where it is below 0 and one where it is not. */
function falsePosition(
  of: (x: number) => number,
  [low, atLow]: [number, number],
  [high, atHigh]: [number, number],
  precision: number,
): number {
  let side = 0;
  for (let step = 0; step < MOST_STEPS && high - low > precision; step++) {
    const aimed = low + ((high - low) * atLow) / (atLow - atHigh);
    // Half of the precision within: a root that lies by an end is then passed, and closed in upon from both sides.
    const guess = Math.min(Math.max(aimed, low + precision / 2), high - precision / 2);
    const value = of(guess);
    if (value < 0) {
      if (side < 0) atHigh /= 2;
      [low, atLow, side] = [guess, value, -1];
    } else {
      if (side > 0) atLow /= 2;
      [high, atHigh, side] = [guess, value, 1];
    }
  }
  return high;
}
