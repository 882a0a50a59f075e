import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Chance } from '../../../lib/simulation/chance.ts';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../../shared/time/localDate.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';

const ZONE = zoneOf('America/New_York');
const FIRST_DATE = parseLocalDate('2025-01-06') ?? 0;
const MINUTE = 60_000;
const BEGINS = 60;

/** What else a day reports; gallons come on top of what the household draws. */
interface Day {
  gallons?: number;
  minutes?: number;
  hours?: number;
}
type Life = (day: number, minutesOfDay: number) => Day;

const minutesOf = (date: LocalDate) => (ZONE.startOf(date + 1) - ZONE.startOf(date)) / MINUTE;

/** Flow days of an invented home of 120 gallons a day that senses what `life` gives. */
function home(days: number, life: Life, seed = 1): Wire[] {
  const chance = new Chance(seed, 21);
  return Array.from({ length: days }, (_, day) => {
    const date = FIRST_DATE + day;
    const { gallons = 0, minutes, hours } = life(day, minutesOf(date));
    const drawn = chance.gamma(120, 0.4) + gallons;
    return wire('flow-day', `flow-${day}`, ZONE.startOf(date + 1), {
      date: formatLocalDate(date),
      volume: { value: drawn, unit: '[gal_us]' },
      ...(minutes !== undefined && { longestFlowMinutes: Math.round(minutes) }),
      ...(hours !== undefined && { flowHours: Math.round(hours) }),
    });
  });
}

/** A home in which a tap drips. */
function emptyDays(days: number): Wire[] {
  const dripping = { volume: { value: 1, unit: '[gal_us]' } };
  return home(days, () => ({})).map((event) => ({ ...event, data: { ...event.data, ...dripping } }));
}

const alertsOf = (events: readonly Wire[]) => episodesOf('continuous-flow', events);
/** The day from 0 whose report raised or cleared an alert. */
const dayOf = (instant: string | null | undefined) => ZONE.dateAt(Date.parse(instant ?? '')) - FIRST_DATE - 1;
const gpms = fc.double({ min: 0.1, max: 1.5, noNaN: true });

describe('continuous-flow', () => {
  it('asks after one whole day, sends somebody after two, and ends with the first pause', () => {
    const spell = fc.integer({ min: 2, max: 30 });
    fc.assert(
      fc.property(gpms, spell, fc.integer({ min: 1, max: 1000 }), (gpm, days, seed) => {
        const runs = (day: number) => day >= BEGINS && day < BEGINS + days;
        const life: Life = (day, whole) =>
          runs(day)
            ? { gallons: gpm * whole, minutes: whole, hours: whole / 60 }
            : { minutes: 14, hours: 15 };
        const alerts = alertsOf(home(BEGINS + days + 5, life, seed));
        expect(alerts).toHaveLength(1);
        const [alert] = alerts;
        expect(alert).toMatchObject({ cause: 'leak', severity: 'soon' });
        expect(alert?.history[0]?.severity).toBe('routine');
        expect(dayOf(alert?.raisedAt)).toBe(BEGINS);
        expect(dayOf(alert?.history.find(({ severity }) => severity === 'soon')?.at)).toBe(BEGINS + 1);
        expect(dayOf(alert?.clearedAt)).toBe(BEGINS + days);
        expect(alert?.evidence.wholeDays).toBe(days);
        // The household's own draws scatter by 48 gallons a day, and its level is known to some twelve. Draws are gammas:
        // over a thousand seeds the furthest of two days' means lies 4.3 standard deviations off.
        const error = 5 * Math.hypot(48 / Math.sqrt(days), 12);
        expect(Math.abs(Number(alert?.evidence.leakGpm) - gpm) * 1440).toBeLessThan(error);
        expect(Math.abs(Number(alert?.evidence.gallonsLost) - gpm * 1440 * days)).toBeLessThan(error * days);
      }),
      { numRuns: 60 },
    );
  });

  it('goes by the length of the local day: 23, 24 or 25 hours', () => {
    const changes = ['2025-03-09', '2025-03-10', '2025-11-02'].map((date) => parseLocalDate(date) ?? 0);
    expect(changes.map(minutesOf)).toEqual([1380, 1440, 1500]);
    for (const date of changes) {
      const on = date - FIRST_DATE;
      const told = (minutes: number) =>
        alertsOf(home(on + 1, (day) => ({ minutes: day === on ? minutes : 20, hours: 23 }))).length;
      expect(told(minutesOf(date))).toBe(1);
      expect(told(minutesOf(date) - 60)).toBe(0);
    }
  });

  it('takes an icemaker that rests now and then for no leak, though water flows in every hour', () => {
    const life: Life = (_, whole) => ({ gallons: 80, minutes: 55, hours: whole / 60 });
    expect(alertsOf(home(200, life))).toEqual([]);
  });

  it('goes on over days without a report', () => {
    const life: Life = (day, whole) => ({
      minutes: day >= BEGINS ? whole : 20,
      gallons: day >= BEGINS ? 400 : 0,
    });
    const events = home(BEGINS + 8, life).filter((_, day) => day !== BEGINS + 2 && day !== BEGINS + 3);
    const alerts = alertsOf(events);
    expect(alerts).toHaveLength(1);
    expect(alerts[0]?.evidence).toMatchObject({ wholeDays: 8, wholeDaysReported: 6 });
  });

  it('learns that a home fills its pool all day now and then, and still tells a leak there', () => {
    const fills = (day: number) => day < 500 && day % 25 === 24;
    const life: Life = (day, whole) =>
      fills(day) || day >= 520 ? { gallons: 3000, minutes: whole } : { minutes: 20 };
    const alerts = alertsOf(home(526, life));
    const fillings = alerts.filter(({ raisedAt }) => dayOf(raisedAt) < 500);
    expect(fillings.length).toBeGreaterThan(0);
    expect(fillings.every(({ severity }) => severity === 'routine')).toBe(true);
    // Nobody is asked about the latest ones.
    expect(fillings.filter(({ raisedAt }) => dayOf(raisedAt) > 350)).toEqual([]);
    expect(alerts.at(-1)).toMatchObject({ severity: 'soon', clearedAt: null });
  });

  describe('where only the hours with flow are sensed', () => {
    it('needs two days and more use than usual', () => {
      const life: Life = (day, whole) =>
        day >= BEGINS ? { gallons: 300, hours: whole / 60 } : { hours: 15 };
      const [alert] = alertsOf(home(BEGINS + 5, life));
      expect(dayOf(alert?.raisedAt)).toBe(BEGINS + 1);
      expect(alert?.severity).toBe('soon');
      // Somebody draws in each hour of many days.
      expect(alertsOf(home(200, (day) => ({ hours: day % 3 === 0 ? 15 : 24 })))).toEqual([]);
    });
  });

  describe('where nothing but use is sensed', () => {
    const rises = (gallons: number, days: number) =>
      home(BEGINS + 40, (day) => ({ gallons: day >= BEGINS && day < BEGINS + days ? gallons : 0 }));

    it('only asks, after a week of several times the usual, and ends with the first day of less', () => {
      const alerts = alertsOf(rises(0.5 * 1440, 20));
      expect(alerts).toHaveLength(1);
      expect(alerts[0]).toMatchObject({ severity: 'routine', evidence: { toldBy: 'least-use' } });
      expect(dayOf(alerts[0]?.raisedAt)).toBe(BEGINS + 6);
      expect(dayOf(alerts[0]?.clearedAt)).toBe(BEGINS + 20);
    });

    it('cannot tell a small leak, nor takes guests or a garden for one', () => {
      expect(alertsOf(rises(0.1 * 1440, 20))).toEqual([]);
      expect(alertsOf(rises(250, 9))).toEqual([]);
      const garden = home(200, (day) => ({ gallons: day >= BEGINS && day % 2 === 0 ? 900 : 0 }));
      expect(alertsOf(garden)).toEqual([]);
    });

    it('says nothing of a home that stands empty as a rule', () => {
      const stay = home(150, (day) => ({ gallons: day >= 100 ? 60 : 0 })).slice(100);
      const holidays = [...emptyDays(100), ...stay];
      expect(alertsOf(holidays)).toEqual([]);
    });
  });
});
