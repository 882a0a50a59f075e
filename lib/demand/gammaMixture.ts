import { PLACE_WIDTH, place, placedCdf } from './gamma.ts';

/** An amount that is one of several gammas, each with a probability; together they may be less than certain. */
export class GammaMixture {
  private readonly probabilities: Float64Array;
  private readonly places: Float64Array;
  private size = 0;

  /** @param most of how many gammas at most */
  constructor(most: number) {
    this.probabilities = new Float64Array(most);
    this.places = new Float64Array(most * PLACE_WIDTH);
  }

  clear(): void {
    this.size = 0;
  }

  isEmpty(): boolean {
    return this.size === 0;
  }

  /** One more, of a mean and a variance above 0. */
  add(probability: number, mean: number, variance: number): void {
    this.probabilities[this.size] = probability;
    place(this.places, this.size * PLACE_WIDTH, mean, Math.sqrt(variance) / mean);
    this.size += 1;
  }

  /** Probability that it is one of them and at least `amount`, 0 or more. */
  reaches(amount: number): number {
    const { probabilities, places, size } = this;
    const root = Math.sqrt(amount);
    let reaching = 0;
    for (let each = 0; each < size; each++) {
      reaching += (probabilities[each] as number) * (1 - placedCdf(places, each * PLACE_WIDTH, root));
    }
    return reaching;
  }
}
