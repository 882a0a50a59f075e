import type { Estimate } from '../../../lib/estimate/estimate.ts';
import { convert, count, percent, type QuantityName } from '../../show/amounts.ts';
import type { Likings } from '../../show/Likings.tsx';

/** A number in the units that are liked; of days there is but one. */
export function numberWords(value: number, quantity: QuantityName | undefined, likings: Likings): string {
  const shown = quantity ? convert(value, quantity, likings) : value;
  // What rounds to nothing has no sign.
  return count(Math.abs(shown) < 0.005 ? 0 : shown, likings).replace('-', '−');
}

/** Such as `1,080 to 1,420`. */
export function rangeWords(
  { low, high }: Estimate,
  quantity: QuantityName | undefined,
  likings: Likings,
): string {
  return `${numberWords(low, quantity, likings)} to ${numberWords(high, quantity, likings)}`;
}

/** A change with its sign and its share of what it changes. */
export function changeWords(
  change: number,
  of: number,
  quantity: QuantityName | undefined,
  likings: Likings,
): string {
  const words = numberWords(change, quantity, likings);
  if (words === '0') return 'none';
  const sign = change < 0 ? '' : '+';
  const share = of > 0 ? ` (${change < 0 ? '−' : '+'}${percent(Math.abs(change) / of, likings)})` : '';
  return `${sign}${words}${share}`;
}
