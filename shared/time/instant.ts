import * as z from 'zod';

/** A moment, in milliseconds since 1970-01-01T00:00:00Z. */
export type Instant = number;

const PATTERN = /^(\d{4})-(\d\d)-(\d\d)[Tt](\d\d):(\d\d):(\d\d)(\.\d+)?(?:[Zz]|([+-])(\d\d):(\d\d))$/;
const DAYS_IN_MONTH = [31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/**
 * Reads an RFC 3339 date-time, whose offset is mandatory. Returns undefined for any other text and for a time
 * that does not exist (30 February, 25 o'clock). A leap second (:60) is read as the second after it, as POSIX does.
 */
export function parseInstant(text: string): Instant | undefined {
  const match = PATTERN.exec(text);
  if (!match) return undefined;
  const year = Number(match[1]);
  const month = Number(match[2]);
  const day = Number(match[3]);
  const hour = Number(match[4]);
  const minute = Number(match[5]);
  const second = Number(match[6]);
  if (hour > 23 || minute > 59 || second > 60 || day < 1) return undefined;
  if (day > (DAYS_IN_MONTH[month - 1] ?? 0)) return undefined;
  if (month === 2 && day === 29 && !isLeapYear(year)) return undefined;
  const offsetHours = Number(match[9] ?? 0);
  const offsetMinutes = Number(match[10] ?? 0);
  if (offsetHours > 23 || offsetMinutes > 59) return undefined;
  const offset = (match[8] === '-' ? -1 : 1) * (offsetHours * 60 + offsetMinutes);
  const milliseconds = match[7] ? Math.floor(Number(`0${match[7]}`) * 1000) : 0;
  const utc = Date.UTC(year, month - 1, day, hour, minute, second, milliseconds);
  return (year < 100 ? firstCentury(utc, year) : utc) - offset * 60_000;
}

/** Writes an instant as RFC 3339 in UTC, to the millisecond. */
export function formatInstant(instant: Instant): string {
  return new Date(instant).toISOString();
}

/** An RFC 3339 date-time, left as text. */
export const instantSchema = z
  .string()
  .refine((text) => parseInstant(text) !== undefined, 'is not an RFC 3339 time with an offset')
  .meta({ format: 'date-time' });

function isLeapYear(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
}

/** Date.UTC takes the years 0 to 99 for 1900 to 1999. */
function firstCentury(utc: number, year: number): number {
  return new Date(utc).setUTCFullYear(year);
}
