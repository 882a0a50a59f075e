/** What came of several rounds. */
export interface Spread {
  readonly median: number;
  readonly least: number;
  readonly most: number;
}

/**
 * The middle of some rounds and their two ends; of an even number of rounds the mean of the two in the middle.
 *
 * @throws RangeError without rounds
 */
export function spreadOf(rounds: readonly number[]): Spread {
  if (rounds.length === 0) throw new RangeError('there was no round: measure at least once');
  const sorted = [...rounds].sort((a, b) => a - b);
  const at = (index: number) => sorted[index] ?? Number.NaN;
  const half = (sorted.length - 1) / 2;
  return {
    median: (at(Math.floor(half)) + at(Math.ceil(half))) / 2,
    least: at(0),
    most: at(sorted.length - 1),
  };
}

/** The median of some rounds. */
export function median(rounds: readonly number[]): number {
  return spreadOf(rounds).median;
}
