import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { instantAt, winterInstantAt } from '../../../lib/simulation/localTime.ts';
import { parseInstant } from '../../../shared/time/instant.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { type Zone, zoneNamed } from '../../../shared/time/zone.ts';

const HOUR = 3_600_000;

function zoneOf(name: string): Zone {
  const zone = zoneNamed(name);
  if (!zone) throw new Error(`${name} is not known here`);
  return zone;
}

test.each(['America/Chicago', 'America/Phoenix', 'America/St_Johns', 'Australia/Lord_Howe', 'Europe/London'])(
  'what the clocks of %s show leads back to the first instant at which they show it',
  (name) => {
    const zone = zoneOf(name);
    // Half of them within a day of the changes of 2026.
    const instants = fc.oneof(
      fc.integer({ min: 1_700_000_000, max: 1_900_000_000 }),
      ...['2026-03-08', '2026-03-29', '2026-04-05', '2026-10-04', '2026-10-25', '2026-11-01'].map((day) =>
        fc.integer({ min: -86_400, max: 86_400 }).map((s) => (parseLocalDate(day) ?? 0) * 86_400 + s),
      ),
    );
    fc.assert(
      fc.property(instants, (seconds) => {
        const instant = seconds * 1000;
        const back = instantAt(zone, zone.dateAt(instant), zone.hourAt(instant));
        expect(back + zone.offsetAt(back)).toBe(instant + zone.offsetAt(instant));
        expect(back).toBeLessThanOrEqual(instant);
      }),
      { numRuns: 1000 },
    );
  },
);

test.each([
  // Changes of 2026 by the tz database: 08:00Z in Chicago; 15:30Z, and by half an hour, on Lord Howe Island.
  { name: 'America/Chicago', date: '2026-03-08', hour: 2.5, instant: '2026-03-08T08:30:00Z' },
  { name: 'Australia/Lord_Howe', date: '2026-10-04', hour: 2.25, instant: '2026-10-03T15:45:00Z' },
])('a skipped hour in $name comes after the change', ({ name, date, hour, instant }) => {
  expect(instantAt(zoneOf(name), parseLocalDate(date) ?? 0, hour)).toBe(parseInstant(instant));
});

describe.each(['America/Chicago', 'Europe/London'])(
  'a clock in %s that nobody sets to summer time',
  (name) => {
    test('is right in winter and an hour behind in summer', () => {
      const zone = zoneOf(name);
      fc.assert(
        fc.property(
          fc.integer({ min: 19_000, max: 22_000 }),
          fc.integer({ min: 3, max: 22 }),
          (date, hour) => {
            const instant = instantAt(zone, date, hour);
            const isSummer = zone.offsetAt(instant) !== zone.offsetAt(Date.UTC(2026, 0, 15));
            expect(winterInstantAt(zone, date, hour) - instant).toBe(isSummer ? HOUR : 0);
          },
        ),
      );
    });
  },
);
