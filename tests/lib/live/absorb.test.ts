import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { withActs } from '../../../lib/live/alertActs.ts';
import { byKnown, type Followed, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { alertIdOf, raisedAtOf } from '../../../lib/live/transitions.ts';
import type { Received } from '../../../lib/replay/received.ts';
import { settle } from '../../../lib/replay/standing.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import type { Episode } from '../../../lib/watch/episode.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { readmit } from '../../../shared/readmit.ts';
import type { Unit } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { type Wire, wire } from '../../support/events.ts';
import { registryOf } from '../../support/fleet.ts';
import { FollowedUnit } from '../../support/keptPast.ts';
import { noonsBetween } from '../../support/noonsBetween.ts';
import { lastHeard } from '../../support/replayed.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const rules = rulesSchema.parse({});

/** Units with the faults that raise alerts, and some months of their events. */
const units = planFleet({
  units: 12,
  days: 50,
  start: 20_500,
  seed: 11,
  faults: { 'meter-stalled': 0.25, 'brine-not-drawn': 0.25, 'capacity-setting': 0.25 },
}).map((plan) => {
  const { record, events } = simulateUnit(plan);
  const [unit] = registryOf(record).units.values();
  if (!unit) throw new Error('the simulated unit has no record');
  const lines = events.map((event) => JSON.stringify(event));
  return { unit, lines };
});

type SimulatedUnit = (typeof units)[number];

function receive(unit: Unit, line: number, raw: string): Received {
  return { line, raw, fact: readmit(raw, unit) };
}

const late = fc.oneof(
  { weight: 60, arbitrary: fc.constant(0) },
  { weight: 2, arbitrary: fc.nat(72) },
  { weight: 1, arbitrary: fc.nat(300) },
);

/** How a line fares: how late it becomes known and how late it comes to us, with copies and contradictions. */
const fate = fc.record({
  knownLate: late,
  comesLate: late,
  copyLate: fc.option(fc.nat(300), { freq: 20 }),
  conflict: fc.option(fc.record({ gallons: fc.nat(400), hours: fc.integer({ min: -600, max: 600 }) }), {
    freq: 30,
  }),
  /** What another copy says of an act, known so many hours later or earlier. */
  otherAct: fc.option(fc.record({ isOther: fc.boolean(), hours: fc.integer({ min: -60, max: 60 }) }), {
    freq: 3,
  }),
  /** How late what contradicts comes: also after what it stands against was taken in. */
  contradictsLate: fc.nat(200),
  /** Whether the message ends the batch. */
  ends: fc.boolean(),
  /** Whether the clock strikes noon before it comes. */
  strikes: fc.nat(7).map((eighth) => eighth === 0),
});

const findings = ['meter-stalled', 'brine-not-drawn', 'capacity-setting', 'nothing-found', 'salt'];

/** What somebody does about the unit: an hour of its story, and how long it lasts. */
const unitDeed = fc.record({
  act: fc.constantFrom('remove-from-service' as const, 'return-to-service' as const, 'visit' as const),
  finding: fc.constantFrom(...findings),
  hours: fc.integer({ min: 0, max: 80 * 24 }),
  lastsHours: fc.option(fc.integer({ min: -5, max: 200 })),
});

/** What somebody does about an alert that a replay raises: from a while before that on. */
const alertDeed = fc.record({
  act: fc.constantFrom('acknowledge', 'acknowledge', 'unacknowledge', 'shelve', 'unshelve'),
  about: fc.nat(20),
  hours: fc.integer({ min: -48, max: 700 }),
  minutes: fc.nat(59),
  lastsHours: fc.option(fc.integer({ min: -5, max: 200 })),
});

const deeds = fc.record({
  ofUnit: fc.array(unitDeed, { maxLength: 4 }),
  ofAlerts: fc.array(alertDeed, { minLength: 3, maxLength: 9 }),
});

type UnitDeed = typeof unitDeed extends fc.Arbitrary<infer D> ? D : never;
type AlertDeed = typeof alertDeed extends fc.Arbitrary<infer D> ? D : never;

type Fate = typeof fate extends fc.Arbitrary<infer F> ? F : never;

function copiesOf(line: string, fate: Fate) {
  const { knownLate, comesLate, copyLate, conflict, otherAct, contradictsLate } = fate;
  const event = JSON.parse(line);
  const known = Date.parse(event.recordedtime) + knownLate * HOUR;
  const copy = (over: object, at: number, late = comesLate) => ({
    raw: JSON.stringify({ ...event, ...over, recordedtime: new Date(at).toISOString() }),
    comes: at + late * HOUR,
  });
  const copies = [copy({}, known)];
  if (copyLate !== null) copies.push(copy({}, known + copyLate * HOUR));
  if (event.type === 'brinebell.alert-act.v1') {
    // About another alert, which is none, or done otherwise to this one.
    const data = { ...event.data, ...(otherAct?.isOther ? { alertId: 'overrun-0' } : { act: 'unshelve' }) };
    if (otherAct) copies.push(copy({ data }, known + otherAct.hours * HOUR, contradictsLate));
  } else if (conflict) {
    const time = new Date(Date.parse(event.time) + conflict.hours * HOUR).toISOString();
    const data = { ...event.data, volume: { value: conflict.gallons, unit: '[gal_us]' } };
    copies.push(copy({ time, data }, known + conflict.hours * HOUR, contradictsLate));
  }
  return copies;
}

/** What people do about a unit, as lines of its events. */
function linesOfUnit({ unit, lines }: SimulatedUnit, deeds: readonly UnitDeed[]): string[] {
  const from = Date.parse(JSON.parse(lines[0] ?? fail()).time);
  return deeds.map(({ act, finding, hours, lastsHours }, index) => {
    const at = from + hours * HOUR + index;
    if (act === 'visit') {
      const data = { technician: 'tech-4', findings: [finding], work: [] };
      const known = at + Math.max(0, lastsHours ?? 0) * HOUR;
      return lineOf(unit, wire('service-visit', `visit-${index}`, at, data, known));
    }
    const data = { act, by: `desk-${index}`, until: untilOf(at, lastsHours) };
    return lineOf(unit, wire('alert-act', `unit-act-${index}`, at, data, at));
  });
}

/** What people do about some alerts of a unit, and about one that never was. */
function linesOfAlerts(unit: Unit, deeds: readonly AlertDeed[], alerts: readonly string[]): string[] {
  return deeds.map(({ act, about, hours, minutes, lastsHours }, index) => {
    const alertId = alerts[about % (alerts.length + 1)] ?? 'overrun-1772000000000';
    const at = (raisedAtOf(alertId) ?? fail()) + hours * HOUR + minutes * 60_000;
    const data = { act, by: `desk-${index}`, alertId, until: untilOf(at, lastsHours) };
    return lineOf(unit, wire('alert-act', `act-${index}`, at, data, at));
  });
}

function lineOf({ companyId, unitId }: Unit, event: Wire): string {
  return JSON.stringify({ ...event, source: `/companies/${companyId}/units/${unitId}` });
}

function untilOf(at: Instant, lastsHours: number | null): string | undefined {
  return lastsHours === null ? undefined : new Date(at + lastsHours * HOUR).toISOString();
}

/** What comes of lines, in the order in which it comes. */
function messagesOf(lines: readonly string[], fates: Iterator<Fate>, inTime: boolean) {
  return lines
    .flatMap((line) => {
      const { value: fate } = fates.next();
      const { ends, strikes } = fate;
      return copiesOf(line, inTime ? { ...fate, comesLate: 0, contradictsLate: 0 } : fate).map((copy) => ({
        ...copy,
        ends,
        strikes,
      }));
    })
    .sort((a, b) => a.comes - b.comes);
}

/** What a replay makes of all that comes. */
function wholeOf(unit: Unit, raws: readonly string[], until: Instant): Followed {
  const { standing } = settle(raws.map((raw, index) => receive(unit, index + 1, raw)));
  const facts = standing.map(({ fact }) => fact).sort(byKnown);
  return follow(unit, newHead(unit, rules.fold), facts, { rules, until });
}

function episodesOf({ ended, head }: Followed): Episode[] {
  return [...ended, ...head.open];
}

/** The last noon of a unit's site up to an instant. */
function noonBefore({ zone }: Unit, instant: Instant): Instant {
  return noonsBetween(zone, instant - 2 * DAY, instant).at(-1) ?? fail();
}

function fail(): never {
  throw new Error('there is no such unit');
}

describe('a unit that is followed live', () => {
  it('ends as a replay of the same facts does, whatever came late, twice or contradicted, and whenever it was looked at', async () => {
    const seen = { alerts: 0, acts: 0, noons: 0, lived: 0 };
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...units.keys()),
        deeds,
        fc.noBias(fc.infiniteStream(fate)),
        fc.boolean(),
        async (index, done, fates, inTime) => {
          const of = units[index] ?? fail();
          const { unit } = of;
          const story = messagesOf([...of.lines, ...linesOfUnit(of, done.ofUnit)], fates, inTime);
          const until = noonBefore(unit, (story.at(-1)?.comes ?? 0) + 40 * DAY);
          // What is done about alerts makes none, so these are those that there will be.
          const raised = episodesOf(
            wholeOf(
              unit,
              story.map(({ raw }) => raw),
              until,
            ),
          ).map(alertIdOf);
          const handling = messagesOf(linesOfAlerts(unit, done.ofAlerts, raised), fates, inTime);
          const messages = [...story, ...handling]
            .sort((a, b) => a.comes - b.comes)
            .map((message, index) => ({ ...message, received: receive(unit, index + 1, message.raw) }));
          const live = new FollowedUnit(unit);
          const strike = async (at: Instant) => {
            if (await live.receive([], noonBefore(unit, at))) seen.noons += 1;
          };
          let batch: Received[] = [];
          for (const { received, comes, ends, strikes } of messages) {
            // What waits in a queue while the clock strikes came in time all the same, but is taken in late.
            if (strikes && (batch.length === 0 || !inTime)) await strike(comes);
            batch.push(received);
            if (!ends) continue;
            await live.receive(batch);
            batch = [];
          }
          await live.receive(batch, until);

          const whole = wholeOf(
            unit,
            messages.map(({ raw }) => raw),
            until,
          );
          const { journal: _, previous: __, ...head } = whole.head;
          expect(live.head).toMatchObject(head);
          const keys = whole.transitions.map(({ key }) => key).sort();
          const told = [...new Set(live.told.map(({ key }) => key))].sort();
          // Who is told of things as they become known is told each, and nothing else.
          const instants = new Set(messages.map(({ received }) => received.fact.known));
          if (inTime && instants.size === messages.length) expect(told).toEqual(keys);
          expect(told).toEqual(expect.arrayContaining(keys));
          expect(lastHeard(live.told)).toEqual(lastHeard(whole.transitions));
          const episodes = episodesOf(whole);
          expect(Object.fromEntries(live.alerts)).toEqual(
            Object.fromEntries(episodes.map((episode) => [alertIdOf(episode), JSON.stringify(episode)])),
          );
          for (const alertId of episodes.map(alertIdOf)) {
            const acts = whole.acts.filter((each) => each.alertId === alertId).map(({ done }) => done);
            expect(live.acts.get(alertId) ?? []).toEqual(withActs([], { since: null, acts }));
            seen.acts += acts.length;
          }
          expect(Object.fromEntries(live.months)).toMatchObject(
            Object.fromEntries(whole.months.map((month) => [month.month, month])),
          );
          seen.alerts += episodes.length;
          // Suspended, come back, or visited.
          seen.lived += episodes.filter(({ endedBy, lapse, visit }) => endedBy ?? lapse ?? visit).length;
        },
      ),
      { numRuns: 8, endOnFailure: true },
    );
    // Otherwise the comparisons would say nothing.
    expect(seen).toEqual({
      alerts: expect.toSatisfy((count) => count > 15),
      acts: expect.toSatisfy((count) => count > 5),
      noons: expect.toSatisfy((count) => count > 0),
      lived: expect.toSatisfy((count) => count > 3),
    });
  }, 240_000);

  it('reads nothing of its past where facts come in order, and little where one comes a day late', async () => {
    for (const { unit, lines } of units.slice(0, 4)) {
      const received = lines.map((line, index) => receive(unit, index + 1, line));
      received.sort((a, b) => byKnown(a.fact, b.fact));
      const live = new FollowedUnit(unit);
      const late = received.splice(-8, 1);
      for (const each of received) await live.receive([each]);
      expect(live.checkpointsRead).toBe(0);
      for (const each of late) each.fact.known = (live.head.knownUntil ?? 0) + 1;
      await live.receive(late);
      expect(live.checkpointsRead).toBeLessThanOrEqual(2);
      expect(live.copiesRead).toBeLessThanOrEqual(40);
    }
  });

  it('takes in again what it has taken in before, without any change', async () => {
    for (const { unit, lines } of units.slice(0, 3)) {
      const received = lines.map((line, index) => receive(unit, index + 1, line));
      const live = new FollowedUnit(unit);
      await live.receive(received);
      const { journal: _, previous: __, ...before } = structuredClone(live.head);
      const made = JSON.stringify([live.told, [...live.alerts]]);
      for (const { fact } of received.filter((_, index) => index % 13 === 0)) await live.touch([fact.id]);
      expect(live.head).toMatchObject(before);
      expect(JSON.stringify([live.told, [...live.alerts]])).toBe(made);
    }
  });
});
