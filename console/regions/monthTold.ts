import type { Likings } from '../show/Likings.tsx';
import type { Bar } from './figures/bars.ts';
import { type Measure, shownValue } from './measures.ts';
import type { MonthSum } from './months.ts';
import { endOf, timeOf } from './monthWords.ts';
import { WHOLENESS_WORDS, type Wholeness, wholeness } from './whole.ts';

/** A month as a figure tells it. */
export interface Told {
  readonly sum: MonthSum;
  /** In the units that are liked. */
  readonly value: number | null;
  readonly wholeness: Wholeness;
  readonly bar: Omit<Bar, 'parts'>;
}

/** @param now the service's clock, milliseconds since 1970 */
export function toldOf(sum: MonthSum, measure: Measure, now: number, likings: Likings): Told {
  const whole = wholeness(sum, now);
  return {
    sum,
    value: shownValue(sum, measure, 'all', likings),
    wholeness: whole,
    bar: { from: timeOf(sum.month), to: endOf(sum.month), isWhole: whole === 'whole' },
  };
}

/** An amount is split by how it is known, a ratio is not. What is missing has no amount: nothing is put in its place. */
export function valueParts({ sum, value }: Told, measure: Measure): Bar['parts'] {
  if (value === null) return [];
  const known = measure.shares(sum);
  if (measure.isRatio || !known || known.inferred === 0) return [{ part: 'known', value }];
  const inferred = (value * known.inferred) / (known.measured + known.inferred);
  return [
    { part: 'known', value: value - inferred },
    { part: 'inferred', value: inferred },
  ];
}

/** How a month is known, as parts of 1. */
export function shareParts({ sum }: Told, measure: Measure): Bar['parts'] {
  const known = measure.shares(sum);
  if (!known) return [];
  return [
    { part: 'known', value: known.measured },
    { part: 'inferred', value: known.inferred },
    { part: 'missing', value: known.missing },
  ];
}

/** Whether anything of a measure was inferred in any month. */
export function isInferred(told: readonly Told[], measure: Measure): boolean {
  return told.some(({ sum }) => (measure.shares(sum)?.inferred ?? 0) > 0);
}

/** What is said behind a month that is not whole. */
export function partWords({ wholeness: whole }: Told): string {
  return whole === 'whole' ? '' : ` (${WHOLENESS_WORDS[whole]})`;
}
