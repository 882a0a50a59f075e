import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { HandledAlert } from '../../../lib/alarms/alarm.ts';
import { alarmHealth } from '../../../lib/alarms/health.ts';
import { SEVERITIES, type Severity } from '../../../shared/alerts.ts';
import { formatInstant } from '../../../shared/time/instant.ts';

const FROM = Date.parse('2026-03-01T00:00:00Z');
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;
const window = { from: FROM, until: FROM + 30 * DAY };

interface Given {
  unit?: number;
  kind?: HandledAlert['alert']['kind'];
  raised: number;
  cleared?: number | null;
  severities?: [Severity, ...Severity[]];
  acknowledged?: number | null;
  shelved?: [from: number, until: number];
}

/** An alert; times in milliseconds after the begin of the window. */
function alertOf(given: Given): HandledAlert {
  const { unit = 1, kind = 'overrun', raised, cleared = null, acknowledged = null, shelved } = given;
  const severities = given.severities ?? ['routine'];
  return {
    alert: {
      unitId: `u-${unit}`,
      kind,
      severity: severities.at(-1) ?? 'routine',
      raisedAt: formatInstant(FROM + raised),
      clearedAt: cleared === null ? null : formatInstant(FROM + cleared),
      history: severities.map((severity, index) => ({
        at: formatInstant(FROM + raised + index),
        severity,
        probability: 0.9,
      })),
    },
    acknowledged: acknowledged === null ? null : { at: FROM + acknowledged },
    shelved: shelved ? { at: FROM + shelved[0], until: FROM + shelved[1] } : null,
  };
}

function values(alerts: readonly HandledAlert[]) {
  const { measures } = alarmHealth(alerts, window);
  return Object.fromEntries(Object.entries(measures).map(([name, { value }]) => [name, value]));
}

const anyAlert = fc
  .record({
    unit: fc.integer({ min: 1, max: 6 }),
    kind: fc.constantFrom('overrun' as const, 'no-flow' as const),
    raised: fc.integer({ min: -3 * DAY, max: 33 * DAY }),
    lasts: fc.option(fc.integer({ min: 0, max: 9 * DAY })),
    acknowledged: fc.option(fc.integer({ min: 0, max: 5 * DAY })),
    severities: fc.array(fc.constantFrom(...SEVERITIES), { minLength: 1, maxLength: 3 }),
  })
  .map(({ raised, lasts, acknowledged, severities: [first = 'routine', ...more], ...rest }) =>
    alertOf({
      ...rest,
      raised,
      severities: [first, ...more],
      cleared: lasts === null ? null : raised + lasts,
      acknowledged: acknowledged === null ? null : raised + acknowledged,
    }),
  );

describe('alarm health', () => {
  it('is the same whatever the order of the alerts, and blind to what is over before or begins after', () => {
    fc.assert(
      fc.property(fc.array(anyAlert, { maxLength: 40 }), (alerts) => {
        const health = alarmHealth(alerts, window);
        const seen = alerts.filter(
          ({ alert: { raisedAt, clearedAt } }) =>
            Date.parse(raisedAt) < window.until &&
            (clearedAt === null || Date.parse(clearedAt) >= FROM - DAY),
        );
        expect(alarmHealth(seen.reverse(), window)).toEqual(health);
        const shares = Object.entries(health.measures).filter(([name]) => name.startsWith('share'));
        for (const [, { value }] of shares) expect(value >= 0 && value <= 1).toBe(true);
        expect(health.standing.stale).toBeLessThanOrEqual(health.standing.open - health.standing.attended);
        expect(health.standing.mostStaleOnADay).toBeGreaterThanOrEqual(health.standing.stale);
      }),
    );
  });

  it('counts alarms an hour and a day, for each of those who share them', () => {
    const alerts = Array.from({ length: 360 }, (_, n) => alertOf({ unit: n, raised: n * 2 * HOUR }));
    expect(values(alerts)).toMatchObject({ 'alarms-per-hour': 0.5, 'alarms-per-day': 12 });
    const shared = alarmHealth(alerts, { ...window, operators: 3 }).measures;
    expect(shared['alarms-per-day'].value).toBeCloseTo(4, 12);
  });

  it('takes a flood to begin with more than 10 alarms in ten minutes and to end with fewer than 5', () => {
    // Slots of 10, 11, 5, 6, 4 and 10 alarms: the flood is the second to the fourth.
    const alerts = [10, 11, 5, 6, 4, 10].flatMap((count, slot) =>
      Array.from({ length: count }, (_, n) =>
        alertOf({ unit: slot * 20 + n, raised: slot * 10 * MINUTE + (n + 1) * 30_000 }),
      ),
    );
    const slots = 30 * 24 * 6;
    expect(values(alerts)['share-of-time-in-flood']).toBeCloseTo(3 / slots, 12);
    expect(values(alerts)['share-of-10-minutes-over-10']).toBeCloseTo(1 / slots, 12);
  });

  it('finds the most alarms of any ten minutes, wherever they begin', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 90 * MINUTE }), { maxLength: 50 }), (times) => {
        const alerts = times.map((raised, unit) => alertOf({ unit, raised }));
        const within = times.map(
          (begin) => times.filter((time) => time >= begin && time < begin + 10 * MINUTE).length,
        );
        expect(values(alerts)['peak-alarms-in-10-minutes']).toBe(Math.max(0, ...within));
      }),
    );
  });

  it('calls an alarm that is back within a day chattering, and one that nobody saw within a day fleeting', () => {
    const chatters = [0, 1, 2].map((n) => alertOf({ unit: 1, raised: n * DAY, cleared: n * DAY + HOUR }));
    const fleets = alertOf({ unit: 2, raised: 0, cleared: HOUR });
    const seen = alertOf({ unit: 3, raised: 0, cleared: HOUR, acknowledged: HOUR / 2 });
    const lasting = [0, 9].map((n) => alertOf({ unit: 4, raised: n * DAY, cleared: (n + 2) * DAY }));
    // Two kinds of one unit are two alarms.
    const others = (['no-flow', 'overrun'] as const).map((kind) =>
      alertOf({ unit: 5, kind, raised: 0, cleared: 3 * DAY }),
    );
    expect(values([...chatters, fleets, seen, ...lasting, ...others])).toMatchObject({
      'chattering-alarms': 1,
      'fleeting-alarms': 1,
    });
  });

  it('calls an alarm stale that is open for over a day and that nobody acknowledged or shelved', () => {
    const alerts = [
      alertOf({ unit: 1, raised: 0 }),
      alertOf({ unit: 2, raised: 0, acknowledged: 12 * HOUR }),
      alertOf({ unit: 3, raised: 0, acknowledged: 5 * DAY }),
      alertOf({ unit: 4, raised: 0, shelved: [HOUR, 40 * DAY] }),
      alertOf({ unit: 5, raised: 0, shelved: [HOUR, 20 * DAY] }),
      alertOf({ unit: 6, raised: 0, cleared: 23 * HOUR }),
      alertOf({ unit: 7, raised: 29.5 * DAY }),
      alertOf({ unit: 8, raised: -40 * DAY }),
    ];
    const { standing } = alarmHealth(alerts, window);
    // Units 1, 5 and 8 at the end; on the days before the shelf of 5 is over, 1, 3 and 8.
    expect(standing).toEqual({ open: 7, attended: 3, stale: 3, mostStaleOnADay: 3 });
  });

  it('splits priorities by the most that an alert asked for', () => {
    const alerts = [
      ...Array.from({ length: 16 }, (_, n) => alertOf({ unit: n, raised: n * HOUR })),
      ...[20, 21, 22].map((unit) =>
        alertOf({ unit, raised: unit * HOUR, severities: ['routine', 'soon', 'routine'] }),
      ),
      alertOf({ unit: 30, raised: 30 * HOUR, severities: ['urgent'] }),
    ];
    const { priorities, measures } = alarmHealth(alerts, window);
    expect(priorities).toEqual({ routine: 16, soon: 3, urgent: 1 });
    // 80, 15 and 5 %: the published split exactly.
    expect(measures['share-high-priority']).toMatchObject({ value: 0.05, met: true });
    expect(measures['share-medium-and-high-priority']).toMatchObject({ value: 0.2, met: true });
  });

  it('judges nothing by less than 30 days, and the ten most frequent by no fewer than 200 alarms', () => {
    const alerts = Array.from({ length: 200 }, (_, n) =>
      alertOf({ unit: n, raised: n * HOUR, cleared: 900 * HOUR }),
    );
    const top = (given: readonly HandledAlert[]) =>
      alarmHealth(given, window).measures['share-of-ten-most-frequent'];
    expect(top(alerts)).toMatchObject({ value: 0.05, met: true });
    expect(top(alerts.slice(1)).met).toBeNull();
    const short = alarmHealth(alerts, { from: FROM, until: FROM + 30 * DAY - 1 });
    expect(Object.values(short.measures).map(({ met }) => met)).not.toContain(true);
    expect(() => alarmHealth([], { from: FROM, until: FROM })).toThrow(RangeError);
  });
});
