import { twoDigits } from '../digits.ts';

/**
 * A civil date at the site, as the count of days since 1970-01-01. A number, because the ledger adds and
 * compares dates all day long; it carries no zone and no time of day.
 */
export type LocalDate = number;

const MS_A_DAY = 86_400_000;
/** From 0000-03-01 to 1970-01-01. */
const DAYS_FROM_MARCH_0_TO_1970 = 719_468;
/** Dates that were written lately: a forecast writes seven, over and over the same. Each has its place in a ring. */
const WRITTEN = 4096;
const writtenDates: LocalDate[] = new Array<LocalDate>(WRITTEN).fill(Number.NaN);
const writtenTexts: string[] = new Array<string>(WRITTEN).fill('');
/** After which the Gregorian calendar repeats itself. */
const DAYS_IN_400_YEARS = 146_097;
const DASH = 0x2d;

/** Reads `YYYY-MM-DD`. Returns undefined for any other text and for a date that does not exist (2026-02-30). */
export function parseLocalDate(text: string): LocalDate | undefined {
  return text.length === 10 ? localDateAt(text, 0) : undefined;
}

/** Reads the ten characters of a date that stand at a place of a text, as {@link parseLocalDate} does. */
export function localDateAt(text: string, at: number): LocalDate | undefined {
  if (text.charCodeAt(at + 4) !== DASH || text.charCodeAt(at + 7) !== DASH) return undefined;
  const year = twoDigits(text, at) * 100 + twoDigits(text, at + 2);
  return localDateOf(year, twoDigits(text, at + 5), twoDigits(text, at + 8));
}

/** The date of a year from 0 to 9999, a month from 1 and a day from 1. Returns undefined if there is no such day. */
export function localDateOf(year: number, month: number, day: number): LocalDate | undefined {
  const days = daysInMonth(year, month);
  if (!(year >= 0 && day >= 1 && day <= days)) return undefined;
  // Years counted from 1 March, so that the leap day ends one: days before a month are then a straight line, rounded.
  const march = month <= 2 ? year - 1 : year;
  const era = Math.floor(march / 400);
  const yearOfEra = march - era * 400;
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1;
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear;
  return era * DAYS_IN_400_YEARS + dayOfEra - DAYS_FROM_MARCH_0_TO_1970;
}

/** Writes `YYYY-MM-DD`. */
export function formatLocalDate(date: LocalDate): string {
  const place = date & (WRITTEN - 1);
  if (writtenDates[place] === date) return writtenTexts[place] as string;
  const text = new Date(date * MS_A_DAY).toISOString().slice(0, 10);
  writtenDates[place] = date;
  writtenTexts[place] = text;
  return text;
}

/** Day of the week, 0 = Sunday to 6 = Saturday. */
export function weekdayOf(date: LocalDate): number {
  // 1970-01-01 was a Thursday.
  return (((date + 4) % 7) + 7) % 7;
}

const MONTH_LENGTHS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const;

/** Days of a month, 0 of one that does not exist. */
function daysInMonth(year: number, month: number): number {
  const leap = month === 2 && year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  return leap ? 29 : (MONTH_LENGTHS[month - 1] ?? 0);
}
