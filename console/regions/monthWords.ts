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
  return Date.parse(`${month}-01T00:00:00Z`);
}

/** When the month after it begins. */
export function endOf(month: string): number {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return Date.UTC(year, number);
}

function format(locale: string, options: Intl.DateTimeFormatOptions): Intl.DateTimeFormat {
  return new Intl.DateTimeFormat(locale, { ...options, timeZone: 'UTC' });
}
