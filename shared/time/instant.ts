import { isDigit, twoDigits, ZERO } from '../digits.ts';
import { localDateAt } from './localDate.ts';

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
 *
 * @param from where it begins in the text
 * @param to where it ends
 */
export function parseInstant(text: string, from = 0, to = text.length): Instant | undefined {
  // Read by position: a stream carries four times an event, and a regular expression would take a tenth of a replay.
  if (to - from < 20 || (text.charCodeAt(from + 10) | LOWER_CASE) !== LOWER_T) return undefined;
  const date = localDateAt(text, from);
  if (date === undefined || text.charCodeAt(from + 13) !== COLON || text.charCodeAt(from + 16) !== COLON)
    return undefined;
  const hour = twoDigits(text, from + 11);
  const minute = twoDigits(text, from + 14);
  const second = twoDigits(text, from + 17);
  if (!(hour <= 23 && minute <= 59 && second <= 60)) return undefined;
  let end = from + 19;
  let milliseconds = 0;
  if (text.charCodeAt(end) === DOT) {
    const first = ++end;
    for (let worth = 100; isDigit(text.charCodeAt(end)); worth /= 10, end++)
      if (worth >= 1) milliseconds += worth * (text.charCodeAt(end) - ZERO);
    if (end === first) return undefined;
  }
  const offset = offsetMinutes(text, end, to);
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

/** The offset that ends a date-time, in minutes; undefined if what stands there is none. */
function offsetMinutes(text: string, at: number, to: number): number | undefined {
  const sign = text.charCodeAt(at);
  if ((sign | LOWER_CASE) === LOWER_Z) return to === at + 1 ? 0 : undefined;
  if ((sign !== DASH && sign !== PLUS) || text.charCodeAt(at + 3) !== COLON || to !== at + 6)
    return undefined;
  const hours = twoDigits(text, at + 1);
  const minutes = twoDigits(text, at + 4);
  if (!(hours <= 23 && minutes <= 59)) return undefined;
  return (sign === DASH ? -1 : 1) * (hours * 60 + minutes);
}
