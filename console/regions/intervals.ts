import type { Estimate } from '../../lib/estimate/estimate.ts';
import { convert, count, percent, type QuantityName } from '../show/amounts.ts';
import type { Likings } from '../show/Likings.tsx';

/** With what probability an amount lies within its bounds. */
const CHANCE = 0.8;

/** Such as `80%`, as it is written where one is. */
export function chanceWords(likings: Likings): string {
  return percent(CHANCE, likings);
}

/** Whether bounds were worked out for it. */
export function hasBounds({ low, high }: Estimate): boolean {
  return high > low;
}

/** In the units that are liked. */
export function shownEstimate(estimate: Estimate, quantity: QuantityName, likings: Likings): Estimate {
  return {
    value: convert(estimate.value, quantity, likings),
    low: convert(estimate.low, quantity, likings),
    high: convert(estimate.high, quantity, likings),
  };
}

/** Such as `1,234–1,456`, of an estimate as it is shown; undefined without bounds. */
export function boundsWords(shown: Estimate, likings: Likings): string | undefined {
  return hasBounds(shown) ? `${count(shown.low, likings)}–${count(shown.high, likings)}` : undefined;
}
