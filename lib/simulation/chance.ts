import gamma from '@stdlib/random-base-gamma';
import mt19937 from '@stdlib/random-base-mt19937';
import normal from '@stdlib/random-base-normal';

/** What a stream of chance is for, so that changing one thing of a unit leaves the others as they were. */
export const STREAM = {
  unit: 1,
  household: 2,
  fault: 3,
  telemetry: 4,
  fleet: 5,
  untidiness: 6,
  confounders: 7,
  newHome: 8,
  outage: 9,
  senses: 10,
  trueDose: 11,
  scatterOfDose: 12,
} as const;

/** A reproducible stream of chance: the same key gives the same draws. Two keys give independent streams. */
export class Chance {
  readonly #next: () => number;
  readonly #normal: (mean: number, deviation: number) => number;
  readonly #gamma: (shape: number, rate: number) => number;

  /** @param key whole numbers from 0 to 2^32 - 1 */
  constructor(...key: number[]) {
    // A key of one number is taken for the number itself, which may not be 0 then.
    const whole = mt19937.factory({ seed: key.length > 1 ? key : [...key, 0] });
    // The generator gives whole numbers from 1 to 2^32 - 1.
    this.#next = () => (whole() - 1) / 0xffff_ffff;
    this.#normal = normal.factory({ prng: this.#next });
    this.#gamma = gamma.factory({ prng: this.#next });
  }

  /** Uniform from `low` to just under `high`. */
  uniform(low = 0, high = 1): number {
    return low + this.#next() * (high - low);
  }

  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number {
    return Math.floor(this.uniform(low, high + 1));
  }

  happens(probability: number): boolean {
    return this.#next() < probability;
  }

  normal(mean: number, deviation: number): number {
    return mean + deviation * this.#normal(0, 1);
  }

  /** A gamma variable by its mean and its coefficient of variation, both above 0. */
  gamma(mean: number, cv: number): number {
    const shape = 1 / (cv * cv);
    return this.#gamma(shape, shape / mean);
  }

  pick<Items extends readonly [unknown, ...unknown[]]>(items: Items): Items[number] {
    return items[this.whole(0, items.length - 1)];
  }

  /** The same items in chance order. */
  shuffled<Item>(items: readonly Item[]): Item[] {
    return items
      .map((item) => ({ item, at: this.#next() }))
      .sort((a, b) => a.at - b.at)
      .map(({ item }) => item);
  }
}
