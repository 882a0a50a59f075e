const DAY_MS = 86_400_000;

type Options = Intl.DateTimeFormatOptions;

/** A local date of a site, `YYYY-MM-DD`, in words. It stands for a day, so no zone moves it. */
export function day(localDate: string, locale: string, today?: string): string {
  return format(locale, { ...dayOptions(localDate, today), timeZone: 'UTC' }).format(
    Date.parse(`${localDate}T00:00:00Z`),
  );
}

/** The day on which something happened, in a zone. */
export function dayOf(instant: string, { locale, timeZone }: { locale: string; timeZone: string }): string {
  return format(locale, { day: 'numeric', month: 'short', year: 'numeric', timeZone }).format(
    Date.parse(instant),
  );
}

/** When something happened, in a zone, to the minute. */
export function moment(
  instant: string | number,
  { locale, timeZone, named = false }: { locale: string; timeZone: string; named?: boolean },
): string {
  const options: Options = {
    day: 'numeric',
    month: 'short',
    year: 'numeric',
    hour: 'numeric',
    minute: '2-digit',
    timeZone,
    ...(named && { timeZoneName: 'short' }),
  };
  return format(locale, options).format(typeof instant === 'number' ? instant : Date.parse(instant));
}

/** The date that a calendar on the wall shows in a zone, `YYYY-MM-DD`. */
export function dateAt(instant: number, timeZone: string): string {
  const parts = format('en-US', {
    timeZone,
    calendar: 'iso8601',
    numberingSystem: 'latn',
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).formatToParts(instant);
  const part = (type: Intl.DateTimeFormatPartTypes) => parts.find((each) => each.type === type)?.value ?? '';
  return `${part('year').padStart(4, '0')}-${part('month')}-${part('day')}`;
}

/** Whole days from one local date to another; negative if that lies before. */
export function daysBetween(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / DAY_MS);
}

/** The local date so many days later. */
export function daysLater(localDate: string, days: number): string {
  return new Date(Date.parse(localDate) + days * DAY_MS).toISOString().slice(0, 10);
}

/** The instant at which a local time of a zone comes: `2026-03-14` at 8 in the morning. Milliseconds. */
export function instantAt(localDate: string, hour: number, timeZone: string): number {
  const asUtc = Date.parse(localDate) + hour * 3_600_000;
  // The offset there and then; looked up twice, since the first look may fall on the other side of a clock change.
  const guess = asUtc - offsetAt(asUtc, timeZone);
  return asUtc - offsetAt(guess, timeZone);
}

/** How far a zone's wall clock is ahead of UTC, milliseconds. */
function offsetAt(instant: number, timeZone: string): number {
  const parts = format('en-US', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(instant);
  const part = (type: Intl.DateTimeFormatPartTypes) =>
    Number(parts.find((each) => each.type === type)?.value ?? 0);
  const wall = Date.UTC(
    part('year'),
    part('month') - 1,
    part('day'),
    part('hour'),
    part('minute'),
    part('second'),
  );
  return wall - (instant - (instant % 1_000));
}

/** The year is left out where it is this one. */
function dayOptions(localDate: string, today: string | undefined): Options {
  const isThisYear = today?.slice(0, 4) === localDate.slice(0, 4);
  return { day: 'numeric', month: 'short', ...(!isThisYear && { year: 'numeric' }) };
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** To make a format takes a hundred times longer than to use it. */
function format(locale: string, options: Options): Intl.DateTimeFormat {
  const key = `${locale} ${JSON.stringify(options)}`;
  const known = formats.get(key) ?? new Intl.DateTimeFormat(locale, options);
  formats.set(key, known);
  return known;
}
