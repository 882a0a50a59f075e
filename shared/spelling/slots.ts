import { isDigit, ZERO } from '../digits.ts';
import type { SourceParts } from '../source.ts';
import { type Instant, parseInstant } from '../time/instant.ts';
import { formatLocalDate, type LocalDate, localDateOf } from '../time/localDate.ts';
import { fourAt, held, Words } from './heldLine.ts';

const QUOTE = 0x22;
const SLASH = 0x2f;
const BACKSLASH = 0x5c;
const MINUS = 0x2d;
const DOT = 0x2e;
const COLON = 0x3a;
const SPACE = 0x20;
const UPPER_T = 0x54;
const UPPER_Z = 0x5a;
/** As many digits of any number are a whole number that a double holds, as is the power of ten behind its point. */
const EXACT_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: EXACT_DIGITS + 1 }, (_, power) => 10 ** power);
const COMPANIES = new Words('/companies/');
const UNITS = new Words('/units/');

/**
 * A value that changes from line to line. Each kind reads one from the held line, if it is spelt as JSON spells it as a
 * rule and its schema lets it through, and keeps it until the next. `read` returns where it ends, -1 if it is unusual.
 */
export type Slot = NumberSlot | TextSlot | PatternSlot | SourceSlot | InstantSlot | DateSlot;

/** A number of `least` to `most`, whole or not. */
export class NumberSlot {
  value = 0;
  readonly #least: number;
  readonly #most: number;
  readonly #whole: boolean;

  constructor(least: number, most: number, whole: boolean) {
    this.#least = least;
    this.#most = most;
    this.#whole = whole;
  }

  read(line: string, from: number): number {
    const first = held[from] === MINUS ? from + 1 : from;
    // A 0 in front is the whole part: in 01, the 1 is no part of the number.
    const point = held[first] === ZERO ? first + 1 : digitsEnd(first);
    const end = held[point] === DOT ? digitsEnd(point + 1) : point;
    if (point === first || end === point + 1) return -1;
    let value = 0;
    if (end - first > EXACT_DIGITS) value = Number(line.slice(first, end));
    else {
      for (let at = first; at < end; at++) if (at !== point) value = value * 10 + (held[at] ?? 0) - ZERO;
      // Both of them are exact, so that the quotient is the nearest double.
      if (end > point) value /= POWERS_OF_TEN[end - point - 1] ?? 1;
    }
    if (first > from) value = -value;
    if (!(value >= this.#least && value <= this.#most) || (this.#whole && !Number.isInteger(value)))
      return -1;
    this.value = value;
    return end;
  }
}

/** A text of `least` to `most` characters without escapes. */
export class TextSlot {
  value = '';
  readonly #least: number;
  readonly #most: number;

  constructor(least: number, most: number) {
    this.#least = least;
    this.#most = most;
  }

  read(line: string, from: number): number {
    const end = textEnd(from);
    if (end < from + this.#least || end > from + this.#most) return -1;
    this.value = line.slice(from, end);
    return end;
  }
}

/** A text without escapes that a regular expression matches. */
export class PatternSlot {
  value = '';
  readonly #pattern: RegExp;

  /** @param pattern which keeps nothing from one text to the next */
  constructor(pattern: RegExp) {
    this.#pattern = pattern;
  }

  read(line: string, from: number): number {
    const end = textEnd(from);
    const text = end < 0 ? '' : line.slice(from, end);
    if (end < 0 || !this.#pattern.test(text)) return -1;
    this.value = text;
    return end;
  }
}

/** The source of an event. That company and unit are ids is left to whoever knows the units. */
export class SourceSlot {
  #company = 0;
  #companyEnd = 0;
  #unit = 0;
  #unitEnd = 0;

  read(_line: string, from: number): number {
    this.#company = from + COMPANIES.length;
    let at = this.#company;
    while (held[at] !== SLASH && held[at] !== 0) at += 1;
    this.#companyEnd = at;
    this.#unit = at + UNITS.length;
    this.#unitEnd = textEnd(this.#unit);
    return COMPANIES.standAt(from) && UNITS.standAt(this.#companyEnd) ? this.#unitEnd : -1;
  }

  /** The ids in the line that was read. */
  partsIn(line: string): SourceParts {
    return {
      companyId: line.slice(this.#company, this.#companyEnd),
      unitId: line.slice(this.#unit, this.#unitEnd),
    };
  }
}

/** An RFC 3339 date-time, as an instant. */
export class InstantSlot {
  value: Instant = 0;

  read(line: string, from: number): number {
    const length = plainLength(from);
    const end = length === 0 ? textEnd(from) : from + length;
    if (end < 0) return -1;
    const instant = length === 0 ? parseInstant(line.slice(from, end)) : plainInstant(from, length);
    if (instant === undefined) return -1;
    this.value = instant;
    return end;
  }
}

/** A date as `YYYY-MM-DD`. */
export class DateSlot {
  value = '';

  read(_line: string, from: number): number {
    const date = dateAt(from);
    if (date === undefined) return -1;
    // Which gives the same text for a date each time, where a piece of the line would be one more to make.
    this.value = formatLocalDate(date);
    return from + 'YYYY-MM-DD'.length;
  }
}

/** Where the text that goes on at a place of the held line ends; -1 if JSON escapes anything in it. */
function textEnd(from: number): number {
  for (let at = from; ; at++) {
    const code = held[at] ?? 0;
    if (code === QUOTE) return at;
    if (code < SPACE || code === BACKSLASH) return -1;
  }
}

function digitsEnd(from: number): number {
  let at = from;
  while (isDigit(held[at] ?? 0)) at += 1;
  return at;
}

/** The length of an instant that is written as most are, `YYYY-MM-DDTHH:MM:SSZ` or that with three decimals; else 0. */
function plainLength(from: number): number {
  if (held[from + 10] !== UPPER_T || held[from + 13] !== COLON || held[from + 16] !== COLON) return 0;
  if (held[from + 19] === UPPER_Z && held[from + 20] === QUOTE) return 20;
  return held[from + 19] === DOT && held[from + 23] === UPPER_Z && held[from + 24] === QUOTE ? 24 : 0;
}

/** An instant so written; undefined if there is none such, though it may be a leap second. */
function plainInstant(from: number, length: number): Instant | undefined {
  const date = dateAt(from);
  const hour = twoDigits(from + 11);
  const minute = twoDigits(from + 14);
  const second = twoDigits(from + 17);
  const milliseconds = length === 24 ? twoDigits(from + 20) * 10 + digit(from + 22) : 0;
  // Digits that are none make a sum that is none.
  if (date === undefined || hour > 23 || minute > 59 || second > 59) return undefined;
  const instant = ((date * 24 + hour) * 60 + minute) * 60_000 + second * 1_000 + milliseconds;
  return Number.isNaN(instant) ? undefined : instant;
}

/** The month of the date that was read last, as it stood and as numbers; the next one is mostly of the same. */
const month = { yearAsRead: 0, monthAsRead: 0, year: 0, month: 0, first: 0 };

function dateAt(from: number): LocalDate | undefined {
  if (fourAt(from) !== month.yearAsRead || fourAt(from + 4) !== month.monthAsRead) {
    if (held[from + 4] !== MINUS || held[from + 7] !== MINUS) return undefined;
    const year = twoDigits(from) * 100 + twoDigits(from + 2);
    const first = localDateOf(year, twoDigits(from + 5), 1);
    if (first === undefined) return undefined;
    month.yearAsRead = fourAt(from);
    month.monthAsRead = fourAt(from + 4);
    month.year = year;
    month.month = twoDigits(from + 5);
    month.first = first;
  }
  const day = twoDigits(from + 8);
  return day >= 1 && day <= 28 ? month.first + day - 1 : localDateOf(month.year, month.month, day);
}

/** Two decimal digits at a place of the held line, NaN if they are none. */
function twoDigits(at: number): number {
  return digit(at) * 10 + digit(at + 1);
}

function digit(at: number): number {
  const code = held[at] ?? 0;
  return isDigit(code) ? code - ZERO : Number.NaN;
}
