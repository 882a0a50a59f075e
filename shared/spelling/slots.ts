import { isDigit, ZERO } from '../digits.ts';
import { SOURCE } from '../ids.ts';
import { parseInstant } from '../time/instant.ts';
import { parseLocalDate } from '../time/localDate.ts';

/**
 * A value that changes from line to line: how JSON spells it as a rule, and what it is. What is spelt otherwise is left
 * to JSON's own reader and to the schemas.
 */
export interface Slot {
  /** Source of an expression, without groups that capture; a text's is without its quotes. */
  readonly pattern: string;
  /** The value of what matched, undefined if its schema does not let it through. */
  read(text: string): string | number | undefined;
}

/** Printable ASCII, but for what JSON escapes. */
const CHARACTER = '[ !#-\\[\\]-~]';
/** As many digits of any number are a whole number that a double holds, as is the power of ten behind its point. */
const EXACT_DIGITS = 15;
const POWERS_OF_TEN = Array.from({ length: EXACT_DIGITS }, (_, power) => 10 ** power);
const MINUS = 0x2d;
const DOT = 0x2e;

const asItStands = (text: string) => text;

/** A text of `least` to `most` characters. */
export function textSlot(least: number, most: number): Slot {
  return { pattern: `${CHARACTER}{${least},${most}}`, read: asItStands };
}

/** A text that may say anything. */
export const anyTextSlot: Slot = { pattern: `${CHARACTER}*`, read: asItStands };

export const sourceSlot: Slot = { pattern: SOURCE, read: asItStands };

/** An RFC 3339 date-time, which becomes an instant. */
export const instantSlot: Slot = { pattern: '[-+:.\\dTZtz]{20,}', read: (text) => parseInstant(text) };

/** A local date, which stays a text. */
export const dateSlot: Slot = {
  pattern: '\\d{4}-\\d\\d-\\d\\d',
  read: (text) => (parseLocalDate(text) === undefined ? undefined : text),
};

/** A number of `least` to `most`, whole or not. */
export function numberSlot(least: number, most: number, whole: boolean): Slot {
  return {
    pattern: '-?(?:0|[1-9]\\d*)(?:\\.\\d+)?',
    read(text) {
      const value = numberOf(text);
      return value >= least && value <= most && (!whole || Number.isInteger(value)) ? value : undefined;
    },
  };
}

/** The number that a text of JSON's form, without an exponent, is nearest to: quicker than the runtime's, as most are short. */
function numberOf(text: string): number {
  if (text.length > EXACT_DIGITS) return Number(text);
  let digits = 0;
  let point = text.length - 1;
  for (let at = 0; at < text.length; at++) {
    const code = text.charCodeAt(at);
    if (isDigit(code)) digits = digits * 10 + code - ZERO;
    else if (code === DOT) point = at;
  }
  // Both of them are exact, so that the quotient is the nearest double.
  const size = digits / (POWERS_OF_TEN[text.length - 1 - point] ?? 1);
  return text.charCodeAt(0) === MINUS ? -size : size;
}
