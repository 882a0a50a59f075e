import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { inOrder } from '../../../lib/unit/history.ts';
import { GAP_DAYS, reporting } from '../../../lib/unit/memory/reporting.ts';
import { newUnitState } from '../../../lib/unit/state.ts';
import { toAlert } from '../../../lib/watch/episode.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import type { SaltLevel } from '../../../shared/facts.ts';
import { formatInstant } from '../../../shared/time/instant.ts';
import { flowDay, type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE } from '../../support/household.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const rules = rulesSchema.parse({});
const { units } = registryOf(unitRecord());
const unit = firstOf([...units.values()]);
const zone = zoneOf('America/New_York');

function firstOf<Item>([first]: readonly Item[]): Item {
  if (first === undefined) throw new Error('there is none');
  return first;
}

/** The silent-unit alerts of a unit that is followed until the morning after `days` days. */
function alertsOf(events: readonly Wire[], days: number) {
  const facts = events.map((event) => {
    const admission = admit(JSON.stringify(event), units);
    if (!admission.accepted) throw new Error(`${admission.reason}: ${admission.detail}`);
    return admission.fact;
  });
  const until = zone.startOf(FIRST_DATE + days) + 13 * HOUR;
  const { head, ended } = follow(unit, newHead(unit, rules.fold), facts.sort(byKnown), { rules, until });
  return [...ended, ...head.open]
    .filter(({ kind }) => kind === 'silent-unit')
    .map((episode) => toAlert('u-17', episode));
}

/** Flow days of some days, each known when `delivered` says: by default a minute after its midnight. */
function days(
  from: number,
  to: number,
  delivered: (day: number) => number = (day) => zone.startOf(FIRST_DATE + day + 1) + 60_000,
): Wire[] {
  return Array.from({ length: to - from }, (_, index) => {
    const day = from + index;
    const event = flowDay(zone, FIRST_DATE + day, 150 + 20 * Math.sin(day));
    return { ...event, recordedtime: formatInstant(delivered(day)) };
  });
}

/** A gateway that delivers at a minute past the midnights that begin these days. */
function deliveredOn(deliveries: readonly number[]) {
  return (day: number) =>
    zone.startOf(FIRST_DATE + (deliveries.find((each) => each > day) ?? day + 1)) + 60_000;
}

/** The local day, from 0, of an instant, and the hour. */
function dayOf(instant: string | null | undefined): number {
  return zone.dateAt(Date.parse(instant ?? '')) - FIRST_DATE;
}

describe('silent-unit', () => {
  it('is raised at noon of the second day without its flow day, is sent for after a week, and ends when heard', () => {
    const [alert, ...others] = alertsOf([...days(0, 100), ...days(112, 130)], 130);
    expect(others).toEqual([]);
    // Day 99 was the last reported; nothing came of 100 and 101.
    expect(alert).toMatchObject({ kind: 'silent-unit', cause: null });
    expect(alert?.raisedAt).toBe(formatInstant(zone.noonOf(FIRST_DATE + 102)));
    expect(alert?.history[0]?.severity).toBe('routine');
    const sent = alert?.history.find(({ severity }) => severity === 'soon');
    expect(dayOf(sent?.at) - 100).toBeGreaterThanOrEqual(7);
    expect(dayOf(sent?.at) - 100).toBeLessThanOrEqual(9);
    expect(dayOf(alert?.clearedAt)).toBe(113);
    const probabilities = alert?.history.map(({ probability }) => probability) ?? [];
    expect(probabilities).toEqual([...probabilities].sort((a, b) => a - b));
  });

  it('does not take what people do for the unit, and knows none that was never heard', () => {
    const noon = (day: number) => zone.noonOf(FIRST_DATE + day);
    const visit = (day: number) =>
      wire('service-visit', `visit-${day}`, noon(day), { technician: 'tech-4', findings: [], work: [] });
    const [alert] = alertsOf([...days(0, 60), visit(61), visit(63), visit(66)], 70);
    expect(alert?.raisedAt).toBe(formatInstant(noon(62)));
    expect(alert?.clearedAt).toBeNull();
    expect(alertsOf([visit(1), visit(40)], 90)).toEqual([]);
  });

  it.each([
    ['every week', [7, 14, 21, 28, 35, 42, 49, 56, 63, 70, 77, 84, 91, 98], 98, 10],
    ['every few days', [2, 6, 9, 11, 15, 18, 22, 24, 28, 31, 35, 37, 41, 44, 48, 50], 50, 7],
  ])('waits for a gateway that delivers %s, and is raised past that', (_, deliveries, last, most) => {
    const sent = days(0, last, deliveredOn(deliveries));
    expect(alertsOf(sent, last + 1)).toEqual([]);
    const [alert] = alertsOf(sent, last + 30);
    expect(dayOf(alert?.raisedAt) - last).toBeGreaterThan(
      Math.max(...deliveries.map((each, n) => each - (deliveries[n - 1] ?? 0))),
    );
    expect(dayOf(alert?.raisedAt) - last).toBeLessThanOrEqual(most);
  });

  it('is untroubled by days that come ten days late or never, one at a time', () => {
    const late = new Set([20, 33, 47, 61, 80]);
    const lost = new Set([15, 40, 55, 90]);
    const events = days(0, 120, (day) => zone.startOf(FIRST_DATE + day + (late.has(day) ? 11 : 1)) + 60_000);
    const tidy = events.filter((_, day) => !lost.has(day));
    expect(alertsOf(tidy, 120)).toEqual([]);
    // Nor do they teach it to wait longer.
    expect(dayOf(alertsOf(tidy, 140)[0]?.raisedAt)).toBe(122);
  });

  it('learns from a unit that is often out of reach to wait, and still tells when it stays away', () => {
    // Three days of every twenty are missing.
    const events = days(0, 300).filter((_, day) => day % 20 < 17);
    const alerts = alertsOf(events, 330);
    const raised = alerts.map(({ raisedAt }) => dayOf(raisedAt));
    expect(raised.filter((day) => day > 120 && day < 297)).toEqual([]);
    expect(alerts.at(-1)?.clearedAt).toBeNull();
    expect((raised.at(-1) ?? 0) - 297).toBeLessThanOrEqual(7);
  });
});

describe('the record of reporting', () => {
  const state = newUnitState(unit, rules.fold);
  const seen = { unit, rules: rules.fold, state, expectedGallons: 0 };

  function level(id: number, at: number, known: number): SaltLevel {
    return { kind: 'salt-level', id: `e${id}`, time: at, at, known, lb: 50 };
  }

  it('counts the gaps between the instants at which facts came, though they are folded as they happened', () => {
    const facts = fc.array(
      fc.record({
        at: fc.integer({ min: 0, max: 200 }),
        late: fc.oneof(
          { weight: 5, arbitrary: fc.integer({ min: 0, max: 3 }) },
          { weight: 1, arbitrary: fc.integer({ min: 4, max: 60 }) },
        ),
      }),
      { minLength: 1, maxLength: 60 },
    );
    fc.assert(
      fc.property(facts, (given) => {
        // In steps of six hours; the last fact, long after, ends the story.
        const all = [...given, { at: 400, late: 0 }].map(({ at, late }, id) =>
          level(id, at * 6 * HOUR, (at + late) * 6 * HOUR),
        );
        const kept = all
          .sort(inOrder)
          .reduce((each, fact) => reporting.observe(each, fact, seen), reporting.start(unit));
        const first = all[0]?.at ?? 0;
        const known = [...new Set([first, ...all.map((fact) => fact.known)])].sort((a, b) => a - b);
        const gaps = known.slice(1).map((each, index) => (each - (known[index] ?? each)) / DAY);
        expect(kept.reached).toEqual(GAP_DAYS.map((length) => gaps.filter((gap) => gap >= length).length));
        expect(kept.days).toBeCloseTo(100 - first / DAY, 2);
        expect(kept.lastHeard).toBe(400 * 6 * HOUR);
        expect(JSON.parse(JSON.stringify(kept))).toEqual(kept);
      }),
    );
  });

  it('stays small and forgets, however long it goes on', () => {
    let kept = reporting.start(unit);
    for (let day = 0; day < 6000; day++) {
      // A gap of five days each month for eight years, none after that.
      if (day < 3000 && day % 30 > 25) continue;
      kept = reporting.observe(kept, level(day, day * DAY, day * DAY), seen);
    }
    const longGaps = kept.reached[GAP_DAYS.findIndex((length) => length > 3)] ?? 0;
    expect(longGaps / kept.days).toBeLessThan(0.02 / 30);
    expect(JSON.stringify(kept).length).toBeLessThan(300);
  });
});
