/** Between what bounds something lies; `low` is not above `high`. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
}

/** Digits that a metered sum without an interval is told with. Common practice, no source. */
const DIGITS = 3;
/** No figure has more: meters and doses are not known to a thousandth, whatever an interval says that leaves that out. Likewise. */
const MOST_DIGITS = 4;

/**
 * The place to which a figure is rounded whose interval is known, a power of ten: half of the interval is 2 to 20 of
 * it, so that no digit is told that the interval does not support. An uncertainty is quoted with two significant digits
 * at the most, and a figure with four (JCGM 100:2008, Guide to the expression of uncertainty in measurement, 7.2.6; from memory, unverified).
 * Without a width, or with more than a number can tell of, undefined.
 */
export function stepOf({ low, high }: Bounds): number | undefined {
  const half = (high - low) / 2;
  if (!(half > 0 && half < Infinity)) return undefined;
  return Math.max(
    powerBelow(half / 2),
    powerBelow(Math.max(Math.abs(low), Math.abs(high))) / 10 ** (MOST_DIGITS - 1),
  );
}

/** The place to which a metered sum without an interval is rounded: to three significant digits; 1 for nothing. */
export function stepOfSum(value: number): number {
  const size = Math.abs(value);
  return size > 0 ? powerBelow(size) / 10 ** (DIGITS - 1) : 1;
}

/** A figure rounded to a place. */
export function roundedTo(value: number, step: number): number {
  // Through whole numbers: thousandths times a count of them would leave crumbs behind.
  const rounded =
    step < 1
      ? Math.round(value * Math.round(1 / step)) / Math.round(1 / step)
      : Math.round(value / step) * step;
  return rounded === 0 ? 0 : rounded;
}

/** The same in English, with thousands set apart and the decimals of the place. */
export function inSteps(value: number, step: number): string {
  const decimals = Math.min(20, Math.max(0, Math.round(-Math.log10(step))));
  return roundedTo(value, step)
    .toLocaleString('en-US', { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
    .replace('-', '−');
}

/** A count with thousands set apart. */
export function counted(count: number): string {
  return inSteps(count, 1);
}

/** Parts as whole percent of their sum that make up 100: those cut off most are rounded up. All 0 of nothing. */
export function percents(parts: readonly number[]): number[] {
  const shares = parts.map((part) => Math.max(0, part));
  const sum = shares.reduce((total, share) => total + share, 0);
  if (!(sum > 0)) return parts.map(() => 0);
  const exact = shares.map((share) => (100 * share) / sum);
  const whole = exact.map(Math.floor);
  const missing = Math.round(100 - whole.reduce((total, share) => total + share, 0));
  const cutOff = exact.map((share, index) => ({ index, rest: share - Math.floor(share) }));
  for (const { index } of cutOff.sort((a, b) => b.rest - a.rest).slice(0, missing))
    whole[index] = (whole[index] ?? 0) + 1;
  return whole;
}

/** The greatest power of ten that is not above a number above 0. */
function powerBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  // A logarithm may fall short of a whole number by a hair.
  return power * 10 <= value ? power * 10 : power > value ? power / 10 : power;
}
