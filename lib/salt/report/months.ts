import type { Instant } from '../../../shared/time/instant.ts';
import { type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { wholeMonth } from '../monthAccount.ts';

const NAMES = [
  ...['January', 'February', 'March', 'April', 'May', 'June'],
  ...['July', 'August', 'September', 'October', 'November', 'December'],
];
const DAY_MS = 86_400_000;
/** The last place on Earth is so far behind UTC. */
const LAST_ZONE_MS = 12 * 3_600_000;

/** Whether a text is a month, `YYYY-MM`. */
export function isMonth(month: string): boolean {
  return parseLocalDate(`${month}-01`) !== undefined;
}

/** `March 2026`. */
export function monthInWords(month: string): string {
  return `${NAMES[Number(month.slice(5)) - 1]} ${month.slice(0, 4)}`;
}

/** `Mar`. */
export function shortMonth(month: string): string {
  return NAMES[Number(month.slice(5)) - 1]?.slice(0, 3) ?? '';
}

/** A month and the twelve before it, the earliest first. */
export function yearUpTo(month: string): string[] {
  const months = [month];
  for (let first = daysOf(month).from; months.length < 13; first = daysOf(months[0] ?? month).from) {
    months.unshift(wholeMonth(first - 1).month);
  }
  return months;
}

/** The first local day of a month, and the first of the next. */
export function daysOf(month: string): { from: LocalDate; until: LocalDate } {
  const first = parseLocalDate(`${month}-01`);
  if (first === undefined) throw new RangeError(`${month} is no month (YYYY-MM)`);
  return wholeMonth(first);
}

/** Whether a month goes on yet, at an instant, anywhere. */
export function isRunning(month: string, at: Instant): boolean {
  return at < daysOf(month).until * DAY_MS + LAST_ZONE_MS;
}

/** Whether a month is the last that is over, or goes on: what is to come is of interest beside it. */
export function isLatest(month: string, at: Instant): boolean {
  return isRunning(wholeMonth(daysOf(month).until).month, at);
}

/** Whether a month has not begun yet, at an instant, in any place: the first on Earth is 14 hours ahead. */
export function isAhead(month: string, at: Instant): boolean {
  return at < daysOf(month).from * DAY_MS - 14 * 3_600_000;
}

/** `2026-04-02 05:00 UTC`. */
export function instantInWords(at: Instant): string {
  return `${new Date(at).toISOString().slice(0, 16).replace('T', ' ')} UTC`;
}
