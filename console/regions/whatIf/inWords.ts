import type { Estimate } from '../../../lib/estimate/estimate.ts';
import { convert, count, percent, type QuantityName } from '../../show/amounts.ts';
import type { Likings } from '../../show/Likings.tsx';

const LEAST_SHARE = 0.01;

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

/** Whether an interval says more than its number, as it is shown. */
export function hasRange(
  { low, high }: Estimate,
  quantity: QuantityName | undefined,
  likings: Likings,
): boolean {
  return numberWords(low, quantity, likings) !== numberWords(high, quantity, likings);
}

/** A change with its sign and its share of what it changes; no number where it may as well be the other way. */
export function changeWords(
  change: Estimate,
  of: number,
  quantity: QuantityName | undefined,
  likings: Likings,
): string {
  const { value, low, high } = change;
  const words = numberWords(value, quantity, likings);
  if (!hasRange(change, quantity, likings) && words === '0') return 'none';
  if (low <= 0 && high >= 0) return 'none that can be told';
  const sign = value < 0 ? '' : '+';
  return `${sign}${words}${of > 0 ? ` (${shareWords(value / of, likings)})` : ''}`;
}

/** Such as `−12%`, or `<1%` of what is less than that: to be no more than it is matters more of a change than a digit. */
function shareWords(share: number, likings: Likings): string {
  const size = Math.abs(share);
  if (size < LEAST_SHARE) return `<${percent(LEAST_SHARE, likings)}`;
  return `${share < 0 ? '−' : '+'}${percent(size, likings)}`;
}
