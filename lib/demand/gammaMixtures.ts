import { PLACE_WIDTH, place, placedCdf } from './gamma.ts';

/**
 * Amounts that are each one of several gammas, with a probability for each; together they may be less than certain. All
 * lie in one store, one amount's after another's: from `size` when its first was added to `size` when its last was.
 */
export class GammaMixtures {
  private readonly probabilities: Float64Array;
  private readonly places: Float64Array;
  size = 0;

  /** @param most of how many gammas at most, of all amounts */
  constructor(most: number) {
    this.probabilities = new Float64Array(most);
    this.places = new Float64Array(most * PLACE_WIDTH);
  }

  clear(): void {
    this.size = 0;
  }

  /** One more, of a mean and a variance above 0. */
  add(probability: number, mean: number, variance: number): void {
    this.probabilities[this.size] = probability;
    place(this.places, this.size * PLACE_WIDTH, mean, Math.sqrt(variance));
    this.size += 1;
  }

  /** Probability that it is one of those from `from` up to `to`, not included, and at least `amount`, 0 or more. */
  reaches(from: number, to: number, amount: number): number {
    const { probabilities, places } = this;
    const root = Math.sqrt(amount);
    let reaching = 0;
    for (let each = from; each < to; each++) {
      reaching += (probabilities[each] as number) * (1 - placedCdf(places, each * PLACE_WIDTH, root));
    }
    return reaching;
  }
}
