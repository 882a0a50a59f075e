import { localDateOf } from './localDate.ts';

/** A moment, in milliseconds since 1970-01-01T00:00:00Z. */
export type Instant = number;

const MS_A_DAY = 86_400_000;
const MS_A_MINUTE = 60_000;
const MINUTES_A_DAY = 1_440;
const DASH = 0x2d;
const PLUS = 0x2b;
const COLON = 0x3a;
const DOT = 0x2e;
const LOWER_CASE = 0x20;
const LOWER_T = 0x74;
const LOWER_Z = 0x7a;
/** The years that RFC 3339 can write in UTC, 0000 to 9999. An offset can carry a time out of them. */
const FIRST = -62_167_219_200_000;
const LAST = 253_402_300_799_999;

/**
 * Reads an RFC 3339 date-time, whose offset is mandatory, and cuts it to the millisecond. Returns undefined for any
 * other text, for a time that does not exist (30 February, 25 o'clock) and for one that is not in the years 0 to 9999
 * of UTC. A leap second (:60, the last of a UTC day) is read as the second after it, as POSIX does.
 */
export function parseInstant(text: string): Instant | undefined {
  // Read by position: a stream carries four times an event, and a regular expression would take a tenth of a replay.
  if (text.length < 20 || text.charCodeAt(4) !== DASH || text.charCodeAt(7) !== DASH) return undefined;
  const separator = text.charCodeAt(10) | LOWER_CASE;
  if (separator !== LOWER_T || text.charCodeAt(13) !== COLON || text.charCodeAt(16) !== COLON)
    return undefined;
  const date = localDateOf(
    twoDigits(text, 0) * 100 + twoDigits(text, 2),
    twoDigits(text, 5),
    twoDigits(text, 8),
  );
  const hour = twoDigits(text, 11);
  const minute = twoDigits(text, 14);
  const second = twoDigits(text, 17);
  if (date === undefined || !(hour <= 23 && minute <= 59 && second <= 60)) return undefined;
  const fraction = text.charCodeAt(19) === DOT ? digitsFrom(text, 20) : 0;
  if (text.charCodeAt(19) === DOT && fraction === 0) return undefined;
  const milliseconds = fraction === 0 ? 0 : Number(text.slice(20, 20 + Math.min(3, fraction)).padEnd(3, '0'));
  const offset = offsetMinutes(text, fraction === 0 ? 19 : 20 + fraction);
  if (offset === undefined) return undefined;
  const minuteInUtc = hour * 60 + minute - offset;
  if (second === 60 && (minuteInUtc + MINUTES_A_DAY) % MINUTES_A_DAY !== MINUTES_A_DAY - 1) return undefined;
  const instant = date * MS_A_DAY + minuteInUtc * MS_A_MINUTE + second * 1_000 + milliseconds;
  return instant >= FIRST && instant <= LAST ? instant : undefined;
}

/** Writes an instant as RFC 3339 in UTC, to the millisecond. */
export function formatInstant(instant: Instant): string {
  return new Date(instant).toISOString();
}

/** Two decimal digits at a place, NaN if they are none. */
function twoDigits(text: string, at: number): number {
  const tens = text.charCodeAt(at) - 48;
  const ones = text.charCodeAt(at + 1) - 48;
  return tens >= 0 && tens <= 9 && ones >= 0 && ones <= 9 ? tens * 10 + ones : Number.NaN;
}

/** How many digits stand from a place on. */
function digitsFrom(text: string, at: number): number {
  let end = at;
  while (text.charCodeAt(end) >= 48 && text.charCodeAt(end) <= 57) end += 1;
  return end - at;
}

/** The offset that ends a date-time, in minutes; undefined if what stands there is none. */
function offsetMinutes(text: string, at: number): number | undefined {
  const sign = text.charCodeAt(at);
  if ((sign | LOWER_CASE) === LOWER_Z) return text.length === at + 1 ? 0 : undefined;
  if ((sign !== DASH && sign !== PLUS) || text.charCodeAt(at + 3) !== COLON || text.length !== at + 6)
    return undefined;
  const hours = twoDigits(text, at + 1);
  const minutes = twoDigits(text, at + 4);
  if (!(hours <= 23 && minutes <= 59)) return undefined;
  return (sign === DASH ? -1 : 1) * (hours * 60 + minutes);
}
