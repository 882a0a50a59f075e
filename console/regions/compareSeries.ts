import { wholeness } from '../../lib/salt/account/wholeness.ts';
import type { Likings } from '../show/Likings.tsx';
import type { Series } from './figures/lines.ts';
import { estimateWords } from './intervals.ts';
import { type Measure, type Per, shownOf } from './measures.ts';
import type { RegionMonths } from './months.ts';
import { timeOf } from './monthWords.ts';
import type { RegionMonth } from './toldMonths.ts';

/** What values are read by. */
export interface How {
  readonly measure: Measure;
  readonly per: Per;
  readonly likings: Likings;
  /** The service's clock, milliseconds since 1970. */
  readonly now: number;
}

/** One line a region, over the months as they followed each other. */
export function seriesOfRegions(
  regions: readonly RegionMonths[],
  nameOf: (region: string) => string,
  how: How,
): readonly Series[] {
  return regions.map(({ region, months }) => ({
    name: nameOf(region),
    points: months.map((account) => pointOf(account, timeOf(account.month), how)),
  }));
}

/** A year all months are laid over: one without a leap day, and long ago, so that nobody takes it for one of theirs. */
const ANY_YEAR = 2001;

/** One line a year, from January to December. */
export function seriesOfYears(months: readonly RegionMonth[], how: How): readonly Series[] {
  const years = [...new Set(months.map(({ month }) => month.slice(0, 4)))].sort();
  return years.map((year) => ({
    name: year,
    points: months
      .filter(({ month }) => month.startsWith(`${year}-`))
      .map((account) => pointOf(account, Date.UTC(ANY_YEAR, Number(account.month.slice(5)) - 1), how)),
  }));
}

/** Whether any month was seen in two years. */
export function hasTwoYears(months: readonly RegionMonth[]): boolean {
  const seen = months.map(({ month }) => month.slice(5));
  return new Set(seen).size < seen.length;
}

function pointOf(account: RegionMonth, at: number, { measure, per, likings, now }: How) {
  const shown = shownOf(account, measure, per, likings);
  return {
    at,
    value: shown?.value ?? null,
    words: shown ? estimateWords(shown, likings).value : '–',
    isWhole: wholeness(account, now) === 'whole',
  };
}
