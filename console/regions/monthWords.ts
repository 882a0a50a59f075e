import { daysOf } from '../../shared/time/month.ts';

const DAY_MS = 86_400_000;

/** A month, `YYYY-MM`, in words: `June 2026`. */
export function monthWords(month: string, locale: string): string {
  return format(locale, { month: 'long', year: 'numeric' }).format(timeOf(month));
}

/** As it fits beneath a figure: `Jun`, with the year where it begins. */
export function monthTick(time: number, locale: string, withYear: boolean): string {
  const year = withYear ? `\n${new Date(time).getUTCFullYear()}` : '';
  return `${format(locale, { month: 'short' }).format(time)}${year}`;
}

/** When a month begins, as if it did so in UTC: milliseconds since 1970. */
export function timeOf(month: string): number {
  return daysOf(month).from * DAY_MS;
}

/** When the month after it begins. */
export function endOf(month: string): number {
  return daysOf(month).until * DAY_MS;
}

function format(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  return new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' });
}
