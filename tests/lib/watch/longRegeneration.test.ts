import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatInstant } from '../../../shared/time/instant.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';

const ZONE = zoneOf('America/New_York');
const FIRST_DATE = Date.parse('2026-01-05T00:00:00Z') / 86_400_000;
const MINUTE = 60_000;
/** Deviations in standard deviations, in an order that favours nobody. */
const NOISE = [0.3, -1.1, 0.8, -0.2, 1.4, -0.7, 0.1, -1.3, 0.9, 0.5, -0.4, 1.1, -0.9, 0.2, -0.1, 0.7];
/** Telling both in alerts: a regeneration every four days. */
const startOf = (nth: number) => ZONE.startOf(FIRST_DATE + 4 * nth) + 120 * MINUTE;

/** Regenerations that take `usual` minutes, give or take three, times a factor. */
function regenerations(count: number, usual: number, times: (nth: number) => number): Wire[] {
  return Array.from({ length: count }, (_, nth) =>
    wire('regeneration', `regen-${nth}`, startOf(nth), {
      trigger: 'metered',
      durationMinutes: Math.round((usual + 3 * (NOISE[nth % NOISE.length] ?? 0)) * times(nth)),
    }),
  );
}

/** The number of the regeneration at which an alert was raised or cleared. */
function nthAt(instant: string | null | undefined): number {
  return Math.round((Date.parse(instant ?? '') - startOf(0)) / (4 * 1440 * MINUTE));
}

const alertsOf = (events: readonly Wire[]) => episodesOf('long-regeneration', events);
const usual = fc.integer({ min: 60, max: 200 });

describe('long-regeneration', () => {
  it('sends somebody at the second long one, whether all are long or every second, and once only', () => {
    fc.assert(
      fc.property(
        usual,
        fc.double({ min: 1.6, max: 4, noNaN: true }),
        fc.boolean(),
        (minutes, factor, each) => {
          const first = 20;
          const isLong = (nth: number) => nth >= first && (each || nth % 2 === 0);
          const alerts = alertsOf(regenerations(40, minutes, (nth) => (isLong(nth) ? factor : 1)));
          expect(alerts).toHaveLength(1);
          expect(alerts[0]).toMatchObject({ cause: 'drive-failed', severity: 'soon', clearedAt: null });
          const sent = alerts[0]?.history.find(({ severity }) => severity === 'soon');
          expect(nthAt(sent?.at)).toBeLessThanOrEqual(first + (each ? 1 : 2));
          expect(Math.abs(Number(alerts[0]?.evidence.timesUsual) / factor - 1)).toBeLessThan(0.15);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('says nothing while all take what they take, whatever that is, nor of a first one that was long', () => {
    fc.assert(
      fc.property(fc.integer({ min: 30, max: 360 }), fc.boolean(), (minutes, firstIsLong) => {
        const times = (nth: number) => (nth === 0 && firstIsLong ? 1.8 : 1);
        expect(alertsOf(regenerations(60, minutes, times))).toEqual([]);
      }),
      { numRuns: 60 },
    );
  });

  it('does not send anybody for a single one of less than three times the usual', () => {
    for (const factor of [1.5, 2, 2.8]) {
      const alerts = alertsOf(regenerations(40, 105, (nth) => (nth === 20 ? factor : 1)));
      expect(alerts.map(({ severity }) => severity)).not.toContain('soon');
    }
  });

  it('ends after two in a row as usual, not after one, and at a visit', () => {
    const failing = (nth: number) => (nth >= 20 && nth < 25 ? 2 : 1);
    const [alert] = alertsOf(regenerations(40, 105, failing));
    expect(nthAt(alert?.clearedAt)).toBe(26);
    const visit = wire('service-visit', 'visit', startOf(24) + 600 * MINUTE, {
      technician: 'tech-4',
      findings: [],
      work: [],
    });
    const [visited] = alertsOf([...regenerations(25, 105, failing), visit]);
    expect(visited?.clearedAt).toBe(visit.time);
  });

  it('goes on after a visit that mended nothing', () => {
    const visit = wire('service-visit', 'visit', startOf(24) + 600 * MINUTE, {
      technician: 'tech-4',
      findings: [],
      work: [],
    });
    const alerts = alertsOf([...regenerations(26, 105, (nth) => (nth >= 20 ? 2 : 1)), visit]);
    expect(alerts).toHaveLength(2);
    expect(nthAt(alerts[1]?.raisedAt)).toBe(25);
  });

  it('does not hold against the drive what a power failure held up', () => {
    const events = regenerations(24, 105, (nth) => (nth === 20 || nth === 22 ? 2.2 : 1));
    const failures = [20, 22].map((nth) =>
      wire('power', `power-${nth}`, startOf(nth) + 160 * MINUTE, {
        lostAt: formatInstant(startOf(nth) + 30 * MINUTE),
        restoredAt: formatInstant(startOf(nth) + 160 * MINUTE),
        settingsKept: true,
      }),
    );
    expect(alertsOf(events)).toMatchObject([{ severity: 'soon' }]);
    const told = alertsOf([...events, ...failures]);
    expect(told.map(({ severity }) => severity)).not.toContain('soon');
    expect(told.every(({ clearedAt }) => clearedAt !== null)).toBe(true);
  });

  it('takes another salt dose for the reason of another time', () => {
    const events = regenerations(40, 105, (nth) => (nth >= 20 ? 1.7 : 1));
    const settings = wire('settings', 'settings', startOf(20) - 600 * MINUTE, {
      hardness: { value: 20, unit: '[gr]/[gal_us]' },
      capacity: { value: 30_000, unit: '[gr]' },
      regenerationHour: 2,
      saltDose: { value: 15, unit: '[lb_av]' },
    });
    expect(alertsOf(events)).toHaveLength(1);
    expect(alertsOf([...events, settings])).toEqual([]);
  });
});
