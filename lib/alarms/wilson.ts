/** Bounds of a share, 0 to 1. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Wilson's score interval of a binomial share, without correction for continuity. Of no trials it is 0 to 1.
 * Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209; from memory, unverified, but its values are tested.
 *
 * @param deviate normal deviate of the level: 1.6449 for 90 %, 1.9600 for 95 % two-sided
 */
export function wilson(successes: number, trials: number, deviate: number): Interval {
  if (trials === 0) return { low: 0, high: 1 };
  const square = deviate * deviate;
  const share = successes / trials;
  const middle = (share + square / (2 * trials)) / (1 + square / trials);
  const variance = (share * (1 - share)) / trials + square / (4 * trials * trials);
  const half = (deviate * Math.sqrt(variance)) / (1 + square / trials);
  // Rounding must not carry a bound over the edge that it lies on.
  return {
    low: successes === 0 ? 0 : Math.max(0, middle - half),
    high: successes === trials ? 1 : Math.min(1, middle + half),
  };
}
