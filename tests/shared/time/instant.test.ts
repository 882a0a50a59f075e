import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatInstant, parseInstant } from '../../../shared/time/instant.ts';
import { instantSchema } from '../../../shared/time/instantSchema.ts';

/** All that RFC 3339 can write in UTC to the millisecond: the years 0000 to 9999. */
const FIRST = Date.parse('0000-01-01T00:00:00.000Z');
const LAST = Date.parse('9999-12-31T23:59:59.999Z');
const instant = fc.integer({ min: FIRST, max: LAST });

describe('an instant', () => {
  it('is read back as it was written', () => {
    fc.assert(
      fc.property(instant, (time) => {
        expect(parseInstant(formatInstant(time))).toBe(time);
        expect(instantSchema.safeParse(formatInstant(time)).success).toBe(true);
      }),
    );
  });

  it('is where the runtime places it, whatever the offset', () => {
    const minutes = fc.integer({ min: -23 * 60 - 59, max: 23 * 60 + 59 });
    fc.assert(
      fc.property(instant, minutes, (time, offset) => {
        const [hours, rest] = [Math.trunc(Math.abs(offset) / 60), Math.abs(offset) % 60];
        const written = [hours, rest].map((part) => String(part).padStart(2, '0')).join(':');
        const text = `${formatInstant(time).slice(0, -1)}${offset < 0 ? '-' : '+'}${written}`;
        const there = Date.parse(text);
        expect(parseInstant(text)).toBe(there < FIRST || there > LAST ? undefined : there);
      }),
      { numRuns: 2_000 },
    );
  });

  it('is cut, not rounded, to the millisecond', () => {
    const digits = fc.string({ unit: fc.constantFrom(...'0123456789'), minLength: 1, maxLength: 30 });
    fc.assert(
      fc.property(digits, (fraction) => {
        const milliseconds = Number(`${fraction}000`.slice(0, 3));
        expect(parseInstant(`1970-01-01T00:00:00.${fraction}Z`)).toBe(milliseconds);
      }),
    );
  });

  // Source: the examples of RFC 3339 section 5.8; the first two are called equal there, the third is 20 minutes less.
  it.each([
    ['1996-12-19T16:39:57-08:00', '1996-12-20T00:39:57Z'],
    ['1990-12-31T15:59:60-08:00', '1990-12-31T23:59:60Z'],
    ['1937-01-01T12:00:27.87+00:20', '1937-01-01T11:40:27.870Z'],
  ])('%s is %s', (local, utc) => {
    expect(parseInstant(local)).toBe(parseInstant(utc));
    expect(parseInstant(utc)).toBeTypeOf('number');
  });

  it('in a leap second is the second after it (POSIX.1-2017, 4.16 Seconds Since the Epoch)', () => {
    expect(parseInstant('1998-12-31T23:59:60.250Z')).toBe(Date.parse('1999-01-01T00:00:00.250Z'));
    expect(parseInstant('0099-12-31T23:59:60Z')).toBe(Date.parse('0100-01-01T00:00:00Z'));
  });

  // Source: JSON Schema Test Suite, draft2020-12/optional/format/date-time.json (json-schema-org, commit 0f981ee).
  it.each([
    ['1963-06-19T08:30:06.283185Z', true],
    ['1963-06-19T08:30:06Z', true],
    ['1937-01-01T12:00:27.87+00:20', true],
    ['1990-12-31T15:59:50.123-08:00', true],
    ['1998-12-31T23:59:60Z', true],
    ['1998-12-31T15:59:60.123-08:00', true],
    ['1998-12-31T23:59:61Z', false],
    ['1998-12-31T23:58:60Z', false],
    ['1998-12-31T22:59:60Z', false],
    ['1990-02-31T15:59:59.123-08:00', false],
    ['1990-12-31T15:59:59-24:00', false],
    ['1963-06-19T08:30:06.28123+01:00Z', false],
    ['1990-12-31T24:00:00Z', false],
    ['1990-12-31T15:60:00Z', false],
    ['1990-12-31T10:00:00+10:60', false],
    ['06/19/1963 08:30:06 PST', false],
    ['1963-06-19t08:30:06.283185z', true],
    ['2013-350T01:01:01', false],
    ['1963-6-19T08:30:06.283185Z', false],
    ['1963-06-1T08:30:06.283185Z', false],
    ['1963-06-1৪T00:00:00Z', false],
    ['1963-06-11T0৪:00:00Z', false],
    ['+11963-06-19T08:30:06.283185Z', false],
    ['1985-04-12T00:59:59.999999999999999Z', true],
  ])('%s is a time: %s', (text, valid) => {
    expect(instantSchema.safeParse(text).success).toBe(valid);
    expect(parseInstant(text) !== undefined).toBe(valid);
  });

  it.each([
    ['no offset', '2026-03-08T05:00:00'],
    ['a date alone', '2026-03-08'],
    ['a space for the T', '2026-03-08 05:00:00Z'],
    ['no seconds', '2026-03-08T05:00Z'],
    ['an offset without a colon', '2026-03-08T05:00:00-0500'],
    ['29 February of a common year', '2026-02-29T05:00:00Z'],
    ['month 13', '2026-13-01T05:00:00Z'],
    ['day 0', '2026-01-00T05:00:00Z'],
    ['a point without digits', '2026-03-08T05:00:00.Z'],
    ['a break behind it', '2026-03-08T05:00:00Z\n'],
    ['an offset that leads out of the year 9999', '9999-12-31T23:59:59-01:00'],
    ['an offset that leads out of the year 0', '0000-01-01T00:00:00+00:01'],
  ])('is not read from %s', (_, text) => {
    expect(parseInstant(text)).toBeUndefined();
  });
});
