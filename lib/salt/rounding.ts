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

/**
 * The place to which a part of an estimate, or what a rule of thumb gives, is rounded: to two significant digits of its
 * own, since no interval is worked out for it; tenths at the finest.
 */
export function stepOfPart(value: number): number {
  const size = Math.abs(value);
  return size > 0 ? Math.max(LEAST_PART, powerBelow(size) / 10) : 1;
}

/** Parts that are smaller than this in their unit are only told to be so. A choice, no source. */
export const LEAST_PART = 0.1;

/** Into which direction a figure is rounded. */
type Rounding = (value: number) => number;

/** A figure rounded to a place; to the nearest, if nothing else is said. */
export function roundedTo(value: number, step: number, rounding: Rounding = Math.round): number {
  // Through whole numbers: thousandths times a count of them would leave crumbs behind.
  const rounded =
    step < 1 ? rounding(value * Math.round(1 / step)) / Math.round(1 / step) : rounding(value / step) * step;
  return rounded === 0 ? 0 : rounded;
}

/** The decimals of a place. */
export function decimalsOf(step: number): number {
  return Math.min(20, Math.max(0, Math.round(-Math.log10(step))));
}

/** The same in English, with thousands set apart and the decimals of the place. */
export function inSteps(value: number, step: number, rounding: Rounding = Math.round): string {
  const decimals = decimalsOf(step);
  return roundedTo(value, step, rounding)
    .toLocaleString('en-US', { minimumFractionDigits: decimals, maximumFractionDigits: decimals })
    .replace('-', '−');
}

/** An estimate as far as its interval goes: bounds are rounded outwards, so that they hold no less than they did. */
export interface RoundedEstimate {
  readonly value: number;
  /** Null where no interval was worked out. */
  readonly range: Bounds | null;
  /** The place of all three, a power of ten. */
  readonly step: number;
}

/** Rounds an estimate as far as its interval goes; without one to three significant digits. */
export function roundedEstimate({ value, low, high }: Bounds & { readonly value: number }): RoundedEstimate {
  const step = stepOf({ low, high });
  if (step === undefined) {
    const own = stepOfSum(value);
    return { value: roundedTo(value, own), range: null, step: own };
  }
  const range = { low: roundedTo(low, step, Math.floor), high: roundedTo(high, step, Math.ceil) };
  return { value: roundedTo(value, step), range, step };
}

/** A count with thousands set apart. */
export function counted(count: number): string {
  return inSteps(count, 1);
}

/** What is said wherever parts stand beside their sum. */
export const PARTS_CAUTION = 'Each figure is rounded by itself, so rounded parts need not add up.';

/**
 * A share of 1 in whole percent, such as `58 %`, each rounded by itself; `<1 %` of what is more than nothing, and `>99 %` of
 * what is less than all.
 */
export function shareTold(share: number): string {
  if (share > 0 && share < 0.005) return '<1\u00a0%';
  if (share >= 0.995 && share < 1) return '>99\u00a0%';
  return `${inSteps(100 * share, 1)}\u00a0%`;
}

/** The greatest power of ten that is not above a number above 0. */
function powerBelow(value: number): number {
  const power = 10 ** Math.floor(Math.log10(value));
  // A logarithm may fall short of a whole number by a hair.
  return power * 10 <= value ? power * 10 : power > value ? power / 10 : power;
}
