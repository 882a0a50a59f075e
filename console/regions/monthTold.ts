import type { Estimate } from '../../lib/estimate/estimate.ts';
import { type Wholeness, wholeness } from '../../lib/salt/account/wholeness.ts';
import type { Likings } from '../show/Likings.tsx';
import type { Bar } from './figures/bars.ts';
import { CHANCE_WORDS, estimateWords, hasBounds, shownEstimate } from './intervals.ts';
import type { Measure } from './measures.ts';
import { endOf, timeOf } from './monthWords.ts';
import { dayParts, type PartOf, sharesOf } from './shares.ts';
import { DAY_WORDS, shareWords } from './shareWords.ts';
import type { RegionMonth } from './toldMonths.ts';
import { WHOLENESS_WORDS } from './whole.ts';

/** A month as a figure tells it. */
export interface Told {
  readonly account: RegionMonth;
  /** In the units that are liked. */
  readonly estimate: Estimate | null;
  /** How the figure is known, and how the days are of which it is; undefined where there is nothing. */
  readonly shares: readonly PartOf[] | undefined;
  readonly days: readonly PartOf[] | undefined;
  readonly wholeness: Wholeness;
  readonly bar: Omit<Bar, 'parts'>;
}

/** @param now the service's clock, milliseconds since 1970 */
export function toldOf(account: RegionMonth, measure: Measure, now: number, likings: Likings): Told {
  const whole = wholeness(account, now);
  const told = measure.estimate(account);
  return {
    account,
    estimate: told && shownEstimate(told, measure.quantity, likings),
    shares: sharesOf(measure.known.parts(account)),
    days: sharesOf(dayParts(account)),
    wholeness: whole,
    bar: { from: timeOf(account.month), to: endOf(account.month), isWhole: whole === 'whole' },
  };
}

/** An amount is split by how it is known, a ratio is not. */
export function valueBar({ estimate, shares, bar }: Told, { isRatio }: Measure): Bar {
  if (!estimate) return { ...bar, parts: [] };
  const parts = isRatio || !shares ? [{ part: 'known' as const, value: 1 }] : shares;
  return {
    ...bar,
    parts: parts.map(({ part, value }) => ({ part, value: value * estimate.value })),
    ...(hasBounds(estimate) && { range: estimate }),
  };
}

/** What is said of the value: with its bounds, and what stands beside it. */
export function valueWords(
  { estimate, account }: Told,
  measure: Measure,
  unit: string,
  likings: Likings,
): string {
  if (!estimate) return 'nothing to tell';
  const { value, bounds } = estimateWords(estimate, likings);
  return [
    `${value} ${unit}`,
    bounds && `${CHANCE_WORDS} interval ${bounds}`,
    measure.aside?.(account, likings),
  ]
    .filter(Boolean)
    .join('; ');
}

/** How the value is known, in words. */
export function knownWords({ shares }: Told, { known }: Measure): string {
  return shares ? shareWords(shares, known.short) : 'nothing used';
}

/** How the days are known, in words. */
export function dayWords({ days }: Told): string {
  return days ? shareWords(days, DAY_WORDS) : 'no report was owed';
}

/** What is said behind a month that is not whole. */
export function partWords({ wholeness: whole }: Told): string {
  return whole === 'whole' ? '' : ` (${WHOLENESS_WORDS[whole]})`;
}
