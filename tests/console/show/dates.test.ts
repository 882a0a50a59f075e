import fc from 'fast-check';
import { expect, test } from 'vitest';
import { dateAt, daysBetween, daysLater, instantAt } from '../../../console/show/dates.ts';
import { formatLocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { zoneNamed } from '../../../shared/time/zone.ts';

/** With clock changes at midnight, by half an hour, far ahead and far behind. */
const ZONES = [
  'America/Denver',
  'America/Havana',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
  'Pacific/Kiritimati',
  'Pacific/Pago_Pago',
  'Europe/Lisbon',
];
const FIRST = parseLocalDate('2015-01-01') ?? 0;
const LAST = parseLocalDate('2035-12-31') ?? 0;

const zone = fc.constantFrom(...ZONES);
const date = fc.integer({ min: FIRST, max: LAST });

test('the date in a zone is that of the service', () => {
  fc.assert(
    fc.property(zone, fc.integer({ min: FIRST * 86_400_000, max: LAST * 86_400_000 }), (name, instant) => {
      expect(dateAt(instant, name)).toBe(formatLocalDate(zoneNamed(name)?.dateAt(instant) ?? 0));
    }),
  );
});

test('noon of a date comes at the instant at which the clock there shows noon of it', () => {
  fc.assert(
    fc.property(zone, date, (timeZone, days) => {
      const text = formatLocalDate(days);
      const instant = instantAt(text, 12, timeZone);
      expect(dateAt(instant, timeZone)).toBe(text);
      const hour = new Intl.DateTimeFormat('en-US', {
        timeZone,
        hour: 'numeric',
        minute: '2-digit',
        hourCycle: 'h23',
      });
      expect(hour.format(instant)).toBe('12:00');
    }),
  );
});

test('days later and days between undo each other', () => {
  fc.assert(
    fc.property(date, fc.integer({ min: -400, max: 400 }), (days, later) => {
      const text = formatLocalDate(days);
      expect(daysLater(text, later)).toBe(formatLocalDate(days + later));
      expect(daysBetween(text, daysLater(text, later))).toBe(later);
    }),
  );
});
