import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { instantAt, winterInstantAt } from '../../../lib/simulation/localTime.ts';
import { formatInstant, type Instant } from '../../../shared/time/instant.ts';
import type { Zone } from '../../../shared/time/zone.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { unitRecord } from '../../support/fleet.ts';

const FIRST_DATE = Date.parse('2026-01-05T00:00:00Z') / 86_400_000;
const HOUR = 3_600_000;
const NEW_YORK = zoneOf('America/New_York');

function started(time: Instant, trigger = 'metered'): Wire {
  return wire('regeneration', `regen-${time}`, time, { trigger });
}

/** A settings event at nine local time, the control's clock being so many hours fast. */
function reported(zone: Zone, day: number, fastHours: number, regenerationHour = 2): Wire {
  const time = zone.startOf(FIRST_DATE + day) + 9 * HOUR;
  const shown = time + zone.offsetAt(time) + Math.round(fastHours * 60) * 60_000;
  return wire('settings', `settings-${time}`, time, {
    hardness: { value: 20, unit: '[gr]/[gal_us]' },
    capacity: { value: 20_000, unit: '[gr]' },
    regenerationHour,
    clock: new Date(shown).toISOString().slice(11, 16),
  });
}

/** A start every four days, so many hours after its hour; days count from 0. */
function starts(
  days: number,
  slowHours: (day: number) => number,
  { zone = NEW_YORK, every = 4 } = {},
): Wire[] {
  const events: Wire[] = [];
  for (let day = 1; day < days; day += every) {
    events.push(started(instantAt(zone, FIRST_DATE + day, 2) + slowHours(day) * HOUR));
  }
  return events;
}

function alertsOf(events: readonly Wire[], over: Record<string, unknown> = {}) {
  return episodesOf('clock-off', events, unitRecord(over));
}

const zones = fc.constantFrom(
  'America/New_York',
  'America/Phoenix',
  'Europe/Berlin',
  'Australia/Lord_Howe',
  'Pacific/Chatham',
  'Asia/Kathmandu',
);

describe('clock-off', () => {
  it('says nothing over two years of starts by a clock that is right but for summer time and some minutes', () => {
    fc.assert(
      fc.property(
        zones,
        fc.integer({ min: 0, max: 23 }),
        fc.integer({ min: 0, max: 10 }),
        fc.boolean(),
        fc.integer({ min: 1, max: 9 }),
        (timeZone, regenerationHour, lateMinutes, setsSummerTime, every) => {
          const zone = zoneOf(timeZone);
          const at = setsSummerTime ? instantAt : winterInstantAt;
          const events: Wire[] = [];
          for (let day = 0; day < 730; day += every) {
            events.push(started(at(zone, FIRST_DATE + day, regenerationHour) + lateMinutes * 60_000));
          }
          const programmed = { ...unitRecord().programmed, regenerationHour };
          expect(alertsOf(events, { timeZone, programmed })).toEqual([]);
        },
      ),
      { numRuns: 40 },
    );
  });

  it('tells morning and evening swapped at the second start, and ends it at one in time', () => {
    const events = starts(120, (day) => (day > 60 && day < 90 ? 12 : 0));
    const [alert, ...others] = alertsOf(events);
    expect(others).toEqual([]);
    // Starts on days 61, 65 and so on; the household is awake at two in the afternoon.
    expect(alert).toMatchObject({ kind: 'clock-off', cause: 'twelve-hours', severity: 'soon' });
    expect(NEW_YORK.dateAt(Date.parse(alert?.raisedAt ?? '')) - FIRST_DATE).toBe(65);
    expect(NEW_YORK.dateAt(Date.parse(alert?.clearedAt ?? '')) - FIRST_DATE).toBe(93);
  });

  it('tells a clock that has run off by two to six hours, standing or creeping, across midnight too', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 5 }),
        // Past the full hour: see the next test.
        fc.integer({ min: 20, max: 56 }),
        fc.boolean(),
        fc.integer({ min: 0, max: 5 }),
        fc.integer({ min: 0, max: 30 }),
        (wholeHours, minutes, isFast, regenerationHour, creepDays) => {
          const slow = (isFast ? -wholeHours - 1 : wholeHours) + minutes / 60;
          const off = (day: number) => (day < 60 ? 0 : slow * Math.min(1, (day - 60 + 1) / (creepDays + 1)));
          const events = starts(150, (day) => regenerationHour - 2 + off(day));
          const programmed = { ...unitRecord().programmed, regenerationHour };
          const [alert, ...others] = alertsOf(events, { programmed });
          expect(others).toEqual([]);
          expect(alert).toMatchObject({ cause: 'drift', clearedAt: null });
          expect(Number(alert?.evidence.clockFastHours)).toBeCloseTo(-slow, 1);
          const raised = NEW_YORK.dateAt(Date.parse(alert?.raisedAt ?? '')) - FIRST_DATE;
          const wrong = events.filter((_, nth) => {
            const day = 1 + 4 * nth;
            // A creeping clock passes full hours on its way, at which a start says little.
            const pastTheHour = (((regenerationHour + off(day)) % 1) + 1) % 1;
            return day <= raised && Math.abs(off(day)) > 1.3 && pastTheHour > 0.3 && pastTheHour < 0.95;
          });
          expect(wrong.length).toBeLessThanOrEqual(4);
        },
      ),
      { numRuns: 200 },
    );
  });

  it('takes starts at another full hour of the night for an hour that was programmed, until the clock is read', () => {
    const changed = starts(100, (day) => (day > 60 ? 3.05 : 0));
    expect(alertsOf(changed)).toEqual([]);
    expect(alertsOf([...changed, reported(NEW_YORK, 80, -3)])).toMatchObject([{ cause: 'drift' }]);
  });

  it('needs one settings event where the clock is more than an hour and a half off, and lets an hour pass', () => {
    const right = starts(60, () => 0);
    fc.assert(
      fc.property(fc.double({ min: -12, max: 12, noNaN: true }), (fastHours) => {
        const alerts = alertsOf([...right, reported(NEW_YORK, 60, fastHours)]);
        const off = Math.abs(fastHours);
        if (off <= 1.2) expect(alerts).toEqual([]);
        if (off >= 1.55) expect(alerts).toHaveLength(1);
        if (off >= 11) expect(alerts[0]?.cause).toBe('twelve-hours');
        if (off >= 1.55 && off <= 10.5) expect(alerts[0]?.cause).toBe('drift');
      }),
      { numRuns: 200 },
    );
  });

  it('says nothing of one odd start, nor of two that disagree, nor of any by hand', () => {
    const odd = (off: (day: number) => number) => alertsOf(starts(100, off));
    expect(odd((day) => (day === 61 ? 12 : 0))).toEqual([]);
    expect(odd((day) => (day === 61 ? 5.3 : 0))).toEqual([]);
    expect(odd((day) => (day === 61 ? 5.3 : day === 65 ? -7 : 0))).toEqual([]);
    const byHand = starts(100, (day) => (day > 60 ? 12 : 0)).map((event) => ({
      ...event,
      data: { trigger: 'manual' },
    }));
    expect(alertsOf(byHand)).toEqual([]);
  });

  it.each([true, false])(
    'believes one start twelve hours off after a power failure (settings kept: %s)',
    (settingsKept) => {
      const lost = NEW_YORK.startOf(FIRST_DATE + 60);
      const failure = wire('power', 'power', lost + HOUR, {
        lostAt: formatInstant(lost),
        restoredAt: formatInstant(lost + HOUR),
        settingsKept,
      });
      expect(alertsOf([...starts(63, () => 0), failure])).toEqual([]);
      const off = (hours: number) => starts(63, (day) => (day === 61 ? hours : 0));
      expect(alertsOf([...off(12), failure])).toMatchObject([{ cause: 'twelve-hours' }]);
      expect(alertsOf([...off(5.4), failure])).toEqual([]);
    },
  );

  it('takes another hour for what it is once it is reported, and a visit for an end', () => {
    const later = starts(80, (day) => (day > 60 ? 3.4 : 0));
    expect(alertsOf(later)).toHaveLength(1);
    const visit = wire('service-visit', 'visit', NEW_YORK.startOf(FIRST_DATE + 79), {
      technician: 'tech-4',
      findings: [],
      work: [],
    });
    expect(alertsOf([...later, visit])[0]?.clearedAt).not.toBeNull();
    const evening = starts(80, (day) => (day > 60 ? -5 : 0));
    expect(alertsOf(evening)).toMatchObject([{ clearedAt: null }]);
    expect(alertsOf([...evening, reported(NEW_YORK, 75, 0, 21)])[0]?.clearedAt).not.toBeNull();
    expect(alertsOf([...evening, reported(NEW_YORK, 59, 0, 21)])).toEqual([]);
  });

  it('asks nothing of the starts of alternating beds, and believes their clock', () => {
    const any = starts(100, (day) => (day * 7) % 24);
    expect(alertsOf(any, { arrangement: 'alternating' })).toEqual([]);
    const report = alertsOf([...any, reported(NEW_YORK, 80, 12)], { arrangement: 'alternating' });
    expect(report).toMatchObject([{ cause: 'twelve-hours', severity: 'routine' }]);
  });
});
