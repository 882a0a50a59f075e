/**
 * A civil date at the site, as the count of days since 1970-01-01. A number, because the ledger adds and
 * compares dates all day long; it carries no zone and no time of day.
 */
export type LocalDate = number;

const MS_A_DAY = 86_400_000;
const PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/;

/** Reads `YYYY-MM-DD`. Returns undefined for any other text and for a date that does not exist (2026-02-30). */
export function parseLocalDate(text: string): LocalDate | undefined {
  const match = PATTERN.exec(text);
  if (!match) return undefined;
  const ms = Date.UTC(Number(match[1]), Number(match[2]) - 1, Number(match[3]));
  // Date.UTC reads the years 0 to 99 as 1900 to 1999 and rolls 30 February over; neither survives the way back.
  return formatLocalDate(ms / MS_A_DAY) === text ? ms / MS_A_DAY : undefined;
}

/** Writes `YYYY-MM-DD`. */
export function formatLocalDate(date: LocalDate): string {
  return new Date(date * MS_A_DAY).toISOString().slice(0, 10);
}

/** Day of the week, 0 = Sunday to 6 = Saturday. */
export function weekdayOf(date: LocalDate): number {
  // 1970-01-01 was a Thursday.
  return (((date + 4) % 7) + 7) % 7;
}

/** The month a date lies in, as `YYYY-MM`. */
export function monthOf(date: LocalDate): string {
  return formatLocalDate(date).slice(0, 7);
}
