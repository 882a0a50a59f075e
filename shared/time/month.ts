import type { Instant } from './instant.ts';
import { formatLocalDate, type LocalDate, localDateOf } from './localDate.ts';

/** A month of the calendar, `YYYY-MM`: so months sort as text. */
export type Month = string;

/** What a text must be to be a month. */
export const MONTH_PATTERN = /^\d{4}-(0[1-9]|1[0-2])$/;

const MONTHS_A_YEAR = 12;
const MS_A_DAY = 86_400_000;
const MS_AN_HOUR = 3_600_000;
/** By so much the zone in which a day begins first is ahead of UTC, and that in which it ends last is behind. */
const FIRST_ZONE_HOURS = 14;
const LAST_ZONE_HOURS = 12;

/** Whether a text is a month. */
export function isMonth(text: string): boolean {
  return MONTH_PATTERN.test(text);
}

/** The month that a local date lies in. */
export function monthOf(date: LocalDate): Month {
  return formatLocalDate(date).slice(0, 7);
}

/** Local days one after the other: `from` is the first of them, `until` the first after them. */
export interface DaySpan {
  readonly from: LocalDate;
  readonly until: LocalDate;
}

/**
 * The first local day of a month, and the first of the next.
 *
 * @throws RangeError if it is no month
 */
export function daysOf(month: Month): DaySpan {
  const { year, number } = partsOf(month);
  const from = localDateOf(year, number, 1);
  const until = number < MONTHS_A_YEAR ? localDateOf(year, number + 1, 1) : localDateOf(year + 1, 1, 1);
  if (from === undefined || until === undefined) throw new RangeError(`${month} is no month (YYYY-MM)`);
  return { from, until };
}

/** The month that a local date lies in, with its first day and that of the next. */
export function wholeMonth(date: LocalDate): WholeMonth {
  const month = monthOf(date);
  const known = wholeMonths.get(month);
  if (known) return known;
  const { from, until } = daysOf(month);
  const whole = { month, from, until };
  if (wholeMonths.size >= MOST_WHOLE_MONTHS) wholeMonths.clear();
  wholeMonths.set(month, whole);
  return whole;
}

type WholeMonth = DaySpan & { readonly month: Month };

/** Months that were asked for lately: every unit of a fleet asks for the same ones. */
const wholeMonths = new Map<Month, WholeMonth>();
const MOST_WHOLE_MONTHS = 1_000;

/** The month so many months later; before, if they are fewer than none. Of the years 0 to 9999. */
export function monthsLater(month: Month, months: number): Month {
  const number = monthNumber(month) + months;
  const year = Math.floor(number / MONTHS_A_YEAR);
  return `${String(year).padStart(4, '0')}-${String(number - year * MONTHS_A_YEAR + 1).padStart(2, '0')}`;
}

/** Counts months from January of the year 0, which is 0: the difference of two is how far they lie apart. */
export function monthNumber(month: Month): number {
  const { year, number } = partsOf(month);
  return year * MONTHS_A_YEAR + number - 1;
}

/** Whether a month goes on yet, at an instant, in any place; or has not begun. */
export function isRunning(month: Month, at: Instant): boolean {
  return at < daysOf(month).until * MS_A_DAY + LAST_ZONE_HOURS * MS_AN_HOUR;
}

/** Whether a month is the last that is over everywhere, or goes on. */
export function isLatest(month: Month, at: Instant): boolean {
  return isRunning(monthsLater(month, 1), at);
}

/** Whether a month has not begun yet, at an instant, in any place. */
export function isAhead(month: Month, at: Instant): boolean {
  return at < daysOf(month).from * MS_A_DAY - FIRST_ZONE_HOURS * MS_AN_HOUR;
}

/** Its year, and its number in that, from 1. What {@link monthOf} writes of a year beyond 9999 is taken for its January. */
function partsOf(month: Month): { year: number; number: number } {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return { year, number };
}
