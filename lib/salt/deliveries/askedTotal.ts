import type { Estimate } from '../../estimate/estimate.ts';
import { Z_OF_80_PERCENT } from '../../estimate/interval.ts';

/** A house that may ask for salt, and how likely it takes each number of bags then, from one on. */
export interface MayAsk {
  readonly probability: number;
  readonly bagChances: readonly number[];
}

/** Of more houses their sum is taken for normal. */
const MOST_COUNTED = 300;
/** Of numbers of bags that are less likely no account is taken. */
const NEGLIGIBLE = 1e-9;

/**
 * The bags that houses will ask for together, each on its own: mean, and the whole numbers between which it lies with 80 %
 * or a little more. Exact for few houses, where a sum is lumpy: a house takes four bags or none.
 */
export function askedTotal(houses: readonly MayAsk[]): Estimate {
  const asking = houses.filter(({ probability }) => probability > 0);
  const moments = asking.map(momentsOf);
  const value = moments.reduce((sum, { mean }) => sum + mean, 0);
  if (asking.length > MOST_COUNTED) {
    const deviation = Math.sqrt(moments.reduce((sum, { variance }) => sum + variance, 0));
    const off = Z_OF_80_PERCENT * deviation;
    return { value, low: Math.max(0, Math.floor(value - off)), high: Math.ceil(value + off) };
  }
  const chances = asking.reduce<readonly number[]>(withHouse, [1]);
  return { value, low: quantile(chances, 0.1), high: quantile(chances, 0.9) };
}

function momentsOf({ probability, bagChances }: MayAsk): { mean: number; variance: number } {
  const ofBags = (power: number) =>
    bagChances.reduce((sum, chance, index) => sum + chance * (index + 1) ** power, 0);
  const mean = probability * ofBags(1);
  return { mean, variance: probability * ofBags(2) - mean ** 2 };
}

/** The chances of each number of bags, from none on, with one more house. */
function withHouse(before: readonly number[], { probability, bagChances }: MayAsk): readonly number[] {
  const after = new Array<number>(before.length + bagChances.length).fill(0);
  for (const [bags, chance] of before.entries()) {
    if (chance < NEGLIGIBLE) continue;
    after[bags] = (after[bags] ?? 0) + chance * (1 - probability);
    for (const [index, each] of bagChances.entries())
      after[bags + index + 1] = (after[bags + index + 1] ?? 0) + chance * probability * each;
  }
  return after;
}

function quantile(chances: readonly number[], share: number): number {
  let sum = 0;
  const bags = chances.findIndex((chance) => {
    sum += chance;
    return sum >= share - 1e-9;
  });
  return bags < 0 ? chances.length - 1 : bags;
}
