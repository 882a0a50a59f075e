import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { formatLocalDate, parseLocalDate, weekdayOf } from '../../../shared/time/localDate.ts';

const DAY = 86_400_000;
/** 0000-01-01 to 9999-12-31: what `YYYY-MM-DD` can write. */
const date = fc.integer({ min: -719_528, max: 2_932_896 });
const digits = (length: number, max: number) =>
  fc.integer({ min: 0, max }).map((value) => String(value).padStart(length, '0'));
/** Texts of the right shape, a good part of which name no day. */
const shaped = fc.tuple(digits(4, 9999), digits(2, 14), digits(2, 33)).map((parts) => parts.join('-'));

describe('a local date', () => {
  it('is read back as it was written', () => {
    fc.assert(fc.property(date, (days) => parseLocalDate(formatLocalDate(days)) === days));
  });

  it('is read if, and only if, the calendar of zod has the day, and then written as it stood', () => {
    const exists = z.iso.date();
    fc.assert(
      fc.property(fc.oneof({ weight: 9, arbitrary: shaped }, fc.string()), (text) => {
        const days = parseLocalDate(text);
        expect(days !== undefined).toBe(exists.safeParse(text).success);
        if (days !== undefined) expect(formatLocalDate(days)).toBe(text);
      }),
      { numRuns: 5_000 },
    );
  });

  // The Gregorian rule: every fourth year is a leap year, every hundredth is not, every four hundredth is.
  it.each([
    ['1970-01-01', 0],
    ['1969-12-31', -1],
    ['2026-02-29', undefined],
    ['2024-02-29', 19_782],
    ['1900-02-29', undefined],
    ['2000-02-29', 11_016],
    ['0000-02-29', -719_469],
    ['0099-12-31', -683_004],
    ['2026-02-30', undefined],
    ['2026-04-31', undefined],
    ['2026-13-01', undefined],
    ['2026-00-10', undefined],
    ['2026-01-00', undefined],
    ['2026-1-01', undefined],
    ['2026-01-01T00:00:00Z', undefined],
    ['2026-01-01\n', undefined],
    ['+012026-01-01', undefined],
    ['', undefined],
  ])('%j is day %s', (text, days) => {
    expect(parseLocalDate(text)).toBe(days);
  });

  it('has the weekday that the runtime gives it', () => {
    fc.assert(
      fc.property(date, (days) => {
        expect(weekdayOf(days)).toBe(new Date(days * DAY).getUTCDay());
      }),
    );
  });
});
