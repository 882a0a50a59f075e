import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fleetEvents,
  placeOfSilent,
  type SilentAlert,
  unitsForEvent,
} from '../../../lib/alarms/fleetEvent.ts';
import { Chance } from '../../../lib/simulation/chance.ts';

const NOON = Date.parse('2026-03-01T18:00:00Z');
const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const region = { region: 'alder-county', units: 140 };

/** A silent unit; days after the first noon. */
function silent(unit: number, raised: number, cleared: number | null = null): SilentAlert {
  return {
    unitId: `unit-${unit}`,
    raisedAt: NOON + raised * DAY,
    clearedAt: cleared === null ? null : NOON + cleared * DAY,
  };
}

/** A carrier that is down: a dozen units at the first noon, weekly gateways days after. */
const outage = [
  ...Array.from({ length: 12 }, (_, unit) => silent(unit, 0, 6)),
  silent(20, 1, 6),
  silent(21, 4, 7),
  silent(22, 5, 7),
];

const anyAlerts = fc.uniqueArray(
  fc
    .record({
      unit: fc.integer({ min: 0, max: 60 }),
      raised: fc.integer({ min: 0, max: 12 }),
      lasts: fc.option(fc.integer({ min: 1, max: 9 })),
    })
    .map(({ unit, raised, lasts }) => silent(unit, raised, lasts === null ? null : raised + lasts)),
  { maxLength: 60, selector: ({ unitId }) => unitId },
);

describe('silent units of a region', () => {
  it('are one event where more fall silent together than chance would bring, and it names them all', () => {
    const [event, ...others] = fleetEvents([...outage, silent(40, -20)], region);
    expect(others).toEqual([]);
    expect(event).toMatchObject({ key: 'silent-alder-county-2026-03-01', since: NOON });
    expect(event?.units).toEqual(outage.map(({ unitId }) => unitId).sort());
    expect(event?.sentence).toContain('15 of 140 units in alder-county');
  });

  it('are the same events in whatever order they come, each unit in one at a time', () => {
    fc.assert(
      fc.property(anyAlerts, (alerts) => {
        const events = fleetEvents(alerts, region);
        expect(fleetEvents([...alerts].reverse(), region)).toEqual(events);
        expect(new Set(events.map(({ key }) => key)).size).toBe(events.length);
        for (const [index, alert] of alerts.entries()) {
          const others = alerts.filter((_, other) => other !== index);
          const place = placeOfSilent(alert, others.reverse(), region);
          if (place.part === 'event') expect(events).toContainEqual(place.event);
          else expect(events.flatMap(({ units }) => units)).not.toContain(alert.unitId);
        }
      }),
    );
  });

  it('join an event that lasts under its key, and are single when it is over', () => {
    const keyAt = (unit: number, day: number) => {
      const place = placeOfSilent(silent(unit, day), outage, region);
      return place.part === 'event' ? place.event.key : null;
    };
    expect([0, 1, 3, 5].map((day) => keyAt(50, day))).toEqual(
      new Array(4).fill('silent-alder-county-2026-03-01'),
    );
    expect(keyAt(50, 8)).toBeNull();
  });

  it('keep their event while they come back one by one, down to half of what began it', () => {
    const needed = unitsForEvent(region.units);
    const back = Array.from({ length: 12 }, (_, unit) => silent(unit, 0, 1 + unit / 4));
    const open = (at: number) => back.filter(({ clearedAt }) => (clearedAt ?? 0) > NOON + at * DAY).length;
    for (const at of [1.1, 2.1, 3.1, 3.6, 3.8]) {
      const { part } = placeOfSilent(silent(50, at), back, region);
      expect(part).toBe(open(at) >= needed / 2 ? 'event' : 'single');
    }
  });

  it('are hardly ever called an event when each falls silent by itself', () => {
    // Expected alerts as the rules have them, 400 years of a region: windows slide, so an event may come somewhat oftener
    // than its chance a day says.
    const chance = new Chance(7, 0);
    const units = 1000;
    const days = 400 * 365;
    const perDay = (units * 0.2) / 365.25;
    const alerts: SilentAlert[] = [];
    for (let at = 0; at < days; at += -Math.log(1 - chance.uniform()) / perDay) {
      alerts.push(silent(chance.whole(0, 1e6), at, at + 3));
    }
    const events = fleetEvents(alerts, { region: 'alder-county', units });
    expect(alerts.length / days).toBeCloseTo(perDay, 1);
    expect(events.length).toBeLessThan(3 * 1e-4 * days);
    expect(unitsForEvent(units)).toBeLessThan(10);
  });

  it('need the more to be an event the more units there are', () => {
    const needed = [0, 5, 100, 1000, 10_000, 100_000].map((units) => unitsForEvent(units));
    expect(needed).toEqual([...needed].sort((a, b) => a - b));
    expect(needed[0]).toBe(4);
    // 54.8 a day are usual; scipy.stats.poisson.isf(1e-4, 54.757) + 1 = 85, scipy 1.17.1.
    expect(needed.at(-1)).toBe(85);
  });
});
