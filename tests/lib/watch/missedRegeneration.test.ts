import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { reserveGallons } from '../../../lib/unit/control.ts';
import { newUnitState } from '../../../lib/unit/state.ts';
import { judgeDue } from '../../../lib/watch/judgeDue.ts';
import { missedRegenerationRulesSchema } from '../../../lib/watch/rules/missedRegeneration.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { formatInstant } from '../../../shared/time/instant.ts';
import { episodesOf } from '../../support/episodesOf.ts';
import { flowDay, regeneration, type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play, type Script } from '../../support/household.ts';
import { replayLines } from '../../support/replayLines.ts';

const ZONE = zoneOf('America/New_York');
const lively = (day: number) => 190 + 40 * Math.sin(day * 1.7) + 30 * Math.cos(day * 0.9);
const STOPS = 40;
const stopped: Script = { days: 60, gallons: lively, regenerates: (day) => day < STOPS };

function at(day: number, hour: number) {
  return ZONE.startOf(FIRST_DATE + day) + hour * 3_600_000;
}

function settings(day: number, hour: number, mode: 'service' | 'setup'): Wire {
  const data = {
    hardness: { value: 20, unit: '[gr]/[gal_us]' },
    capacity: { value: 20_000, unit: '[gr]' },
    regenerationHour: 2,
    mode,
  };
  return wire('settings', `settings-${day}-${hour}`, at(day, hour), data, at(day, hour));
}

/** A reading of the salt each morning: 6 lb less after each of so many regenerations, and a little noise. */
function levels(days: number, drops: readonly number[]): Wire[] {
  const noise = [0, 1, -1, 0, 1, 0, -1, -1, 1, 0];
  return Array.from({ length: days }, (_, day) => {
    const drawn = 6 * drops.filter((drop) => drop <= day).length;
    const data = { mass: { value: 400 - drawn + (noise[day % noise.length] ?? 0), unit: '[lb_av]' } };
    return wire('salt-level', `level-${day}`, at(day, 6), data, at(day, 6));
  });
}

function regenerationDays(events: readonly Wire[]): number[] {
  return events.filter(({ type }) => type.includes('regeneration')).map(({ time }) => dayOf(time));
}

function alertsOf(events: readonly Wire[]) {
  return episodesOf('missed-regeneration', events);
}

function dayOf(instant: string | null | undefined): number {
  return ZONE.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

/** The first morning on which the control was due and did not regenerate. */
const dueOn = (() => {
  const [first] = regenerationDays(play({ ...stopped, regenerates: () => true })).filter(
    (day) => day >= STOPS,
  );
  return first ?? Number.NaN;
})();

describe('missed-regeneration', () => {
  it('tells a failed drive by the third morning where settings and salt are known', () => {
    const events = play(stopped);
    const known = [...events, settings(1, 9, 'service'), ...levels(60, regenerationDays(events))];
    const alerts = alertsOf(known);
    expect(alerts).toMatchObject([{ cause: 'drive-failed', clearedAt: null }]);
    expect(dayOf(alerts[0]?.raisedAt)).toBeGreaterThan(dueOn);
    expect(dayOf(alerts[0]?.raisedAt)).toBeLessThanOrEqual(dueOn + 3);
    // Without them it takes longer, but not for ever, and then nothing tells a drive from a control out of service.
    const [blind] = alertsOf(events);
    expect(dayOf(blind?.raisedAt)).toBeGreaterThan(dayOf(alerts[0]?.raisedAt));
    expect(dayOf(blind?.raisedAt)).toBeLessThanOrEqual(dueOn + 8);
    expect(blind?.evidence.causes).toMatchObject([{ probability: 0.5 }, { probability: 0.5 }]);
    expect(alerts[0]?.evidence.causes).toMatchObject([{ cause: 'drive-failed', probability: 0.9524 }, {}]);
  });

  it('ends with the regeneration, and grows urgent when half a bed is over', () => {
    const script = { ...stopped, regenerates: (day: number) => day < STOPS || day >= 55 };
    const [alert, ...others] = alertsOf([...play(script), settings(1, 9, 'service')]);
    expect(others).toEqual([]);
    expect(alert?.severity).toBe('urgent');
    expect(dayOf(alert?.clearedAt)).toBe(55);
  });

  it('tells a control that was left in set-up after one night, not a technician who programs it', () => {
    const left = alertsOf([
      ...play({ ...stopped, regenerates: (day) => day < STOPS || day >= 50 }),
      settings(STOPS, 10, 'setup'),
      settings(49, 15, 'service'),
    ]);
    expect(left).toMatchObject([{ cause: 'not-in-service' }]);
    expect([dayOf(left[0]?.raisedAt), dayOf(left[0]?.clearedAt)]).toEqual([STOPS + 1, 49]);
    expect(left[0]?.history[0]?.severity).toBe('routine');
    expect(left[0]?.history.map(({ severity }) => severity)).toContain('soon');

    const programmed = play({ days: 80, gallons: lively });
    for (let day = 20; day < 60; day++) {
      const there = [settings(day, 10, 'setup'), settings(day, 11, 'service')];
      expect(alertsOf([...programmed, ...there])).toEqual([]);
    }
  });

  it('bears with a regeneration that is reported a day or two late, and that the salt tells of', () => {
    const events = [...play({ days: 80, gallons: lively }), settings(1, 9, 'service')];
    const salt = levels(80, regenerationDays(events));
    for (const late of regenerationDays(events).slice(4, 12)) {
      const lines = (days: number, more: readonly Wire[]) =>
        linesOf(
          [...events, ...more].map((event) =>
            event.type.includes('regeneration') && dayOf(event.time) === late
              ? { ...event, recordedtime: formatInstant(at(late + days, 20)) }
              : event,
          ),
        );
      const told = (all: readonly string[]) =>
        replayLines(all, registryOf(unitRecord())).alerts.filter(
          ({ kind }) => kind === 'missed-regeneration',
        );
      expect(told(lines(2, []))).toEqual([]);
      expect(told(lines(6, salt))).toEqual([]);
    }
  });

  it('leaves an absent household in peace, however near its control is to its hour', () => {
    for (let leaves = 50; leaves < 60; leaves++) {
      const gallons = (day: number) => (day >= leaves && day < leaves + 21 ? 0.4 : lively(day));
      expect(alertsOf([...play({ days: 90, gallons }), settings(1, 9, 'service')])).toEqual([]);
    }
  });

  it('knows that it does not know at what hour the water of a day was drawn', () => {
    // A leak is mended, and the bed regenerated by hand at two in the afternoon: that day's water was drawn before.
    const events: Wire[] = [settings(1, 9, 'service')];
    const previous: number[] = [];
    let counted = 0;
    for (let day = 0; day < 90; day++) {
      const gallons = day === STOPS ? 900 : 110;
      if (counted + reserveGallons(previous) >= 1000) {
        events.push(regeneration(ZONE, FIRST_DATE + day, 2));
        counted = 0;
      }
      if (day === STOPS) events.push(regeneration(ZONE, FIRST_DATE + day, 14, { trigger: 'manual' }));
      events.push(flowDay(ZONE, FIRST_DATE + day, gallons));
      counted = day === STOPS ? 0 : counted + gallons;
      previous.push(gallons);
    }
    const salt = levels(90, regenerationDays(events));
    expect(alertsOf([...events, ...salt])).toEqual([]);
  });

  it('is careful with a control that may be set to more than is known', () => {
    const more = { days: 60, gallons: lively, capacityGallons: (day: number) => (day < STOPS ? 1000 : 1250) };
    const events = play(more);
    const salt = levels(60, regenerationDays(events));
    // It lets two mornings pass, and the salt says that nothing went unreported.
    expect(alertsOf([...events, ...salt])).toEqual([]);
    // One that reports its settings would have said so.
    expect(alertsOf([...events, ...salt, settings(1, 9, 'service')])).not.toEqual([]);
  });

  it('weighs everything that may be behind it, to a sum of 1', () => {
    const rules = missedRegenerationRulesSchema().parse({});
    const [unit] = registryOf(unitRecord()).units.values();
    if (!unit) throw new Error('no unit');
    const fold = rulesSchema.parse({}).fold;
    const count = fc.record({
      letPassGallons: fc.double({ min: 0, max: 1e6, noNaN: true }),
      missedMornings: fc.integer({ min: 1, max: 400 }),
      imputedGallons: fc.double({ min: 0, max: 1e5, noNaN: true }),
      splitGallons: fc.double({ min: 0, max: 1e5, noNaN: true }),
      settings: fc.constantFrom('on-record' as const, 'reported' as const, 'lost' as const),
    });
    fc.assert(
      fc.property(count, fc.constantFrom(0, 20, 1e-9), (over, hardnessGpg) => {
        const start = newUnitState(unit, fold);
        const state = {
          ...start,
          programmed: { ...start.programmed, hardnessGpg },
          count: { ...start.count, ...over },
        };
        const weights = Object.values(judgeDue(unit, state, rules));
        expect(weights.every((each) => each >= 0 && each <= 1)).toBe(true);
        expect(weights.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 9);
      }),
    );
  });
});
