import type { Estimate } from '../../lib/estimate/estimate.ts';
import { decimalsOf, LEAST_PART, roundedEstimate, roundedTo, stepOfPart } from '../../lib/salt/rounding.ts';
import { convert, count, numberFormat, type QuantityName } from '../show/amounts.ts';
import type { Likings } from '../show/Likings.tsx';

/** With what probability an amount lies within its bounds, as it is written everywhere. */
export const CHANCE_WORDS = '80\u00a0%';

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

/** An estimate in words, without its unit. */
export interface EstimateWords {
  readonly value: string;
  /** Such as `1,200–1,500`; undefined without bounds. */
  readonly bounds: string | undefined;
}

/** An estimate as it is shown, to the digits that its interval supports, as in the report. */
export function estimateWords(shown: Estimate, { locale }: Pick<Likings, 'locale'>): EstimateWords {
  const { value, range, step } = roundedEstimate(shown);
  const decimals = decimalsOf(step);
  const format = numberFormat(locale, { minimumFractionDigits: decimals, maximumFractionDigits: decimals });
  return {
    value: format.format(value),
    bounds: range ? `${format.format(range.low)}–${format.format(range.high)}` : undefined,
  };
}

/** A sum without an interval, in the units that are liked and without them: three digits, as in the report. */
export function sumWords(us: number, quantity: QuantityName, likings: Likings): string {
  return estimateWords(shownEstimate({ value: us, low: us, high: us }, quantity, likings), likings).value;
}

/** A part of an estimate, in the units that are liked and without them: two digits of its own, as in the report. */
export function partWords(us: number, quantity: QuantityName, likings: Likings): string {
  const part = convert(us, quantity, likings);
  if (part > 0 && part < LEAST_PART) return `<${count(LEAST_PART, likings)}`;
  return count(roundedTo(part, stepOfPart(part)), likings);
}
