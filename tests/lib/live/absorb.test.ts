import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import type { Received } from '../../../lib/replay/received.ts';
import { settle } from '../../../lib/replay/standing.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { readmit } from '../../../shared/admission.ts';
import type { Unit } from '../../../shared/registry.ts';
import { registryOf } from '../../support/fleet.ts';
import { FollowedUnit } from '../../support/keptPast.ts';
import { lastHeard } from '../../support/replayed.ts';

const HOUR = 3_600_000;
const rules = rulesSchema.parse({});

/** Units with the faults that raise alerts, and some months of their events. */
const units = planFleet({
  units: 12,
  days: 80,
  start: 20_500,
  seed: 11,
  faults: { 'meter-stalled': 0.25, 'brine-not-drawn': 0.25, 'capacity-setting': 0.25 },
}).map((plan) => {
  const { record, events } = simulateUnit(plan);
  const [unit] = registryOf(record).units.values();
  if (!unit) throw new Error('the simulated unit has no record');
  return { unit, lines: events.map((event) => JSON.stringify(event)) };
});

function receive(unit: Unit, line: number, raw: string): Received {
  return { line, raw, fact: readmit(raw, unit) };
}

const late = fc.oneof(
  { weight: 24, arbitrary: fc.constant(0) },
  { weight: 2, arbitrary: fc.nat(72) },
  { weight: 1, arbitrary: fc.nat(900) },
);

/** How a line fares: how late it becomes known and how late it comes to us, with copies and contradictions. */
const fate = fc.record({
  knownLate: late,
  comesLate: late,
  copyLate: fc.option(fc.nat(300), { freq: 12 }),
  conflict: fc.option(fc.record({ gallons: fc.nat(400), hours: fc.integer({ min: -600, max: 600 }) }), {
    freq: 30,
  }),
  /** Whether the message ends the batch. */
  ends: fc.boolean(),
});

type Fate = typeof fate extends fc.Arbitrary<infer F> ? F : never;

function copiesOf(line: string, { knownLate, comesLate, copyLate, conflict }: Fate) {
  const event = JSON.parse(line);
  const known = Date.parse(event.recordedtime) + knownLate * HOUR;
  const copy = (over: object, at: number) => ({
    raw: JSON.stringify({ ...event, ...over, recordedtime: new Date(at).toISOString() }),
    comes: at + comesLate * HOUR,
  });
  const copies = [copy({}, known)];
  if (copyLate !== null) copies.push(copy({}, known + copyLate * HOUR));
  if (conflict) {
    const time = new Date(Date.parse(event.time) + conflict.hours * HOUR).toISOString();
    const data = { ...event.data, volume: { value: conflict.gallons, unit: '[gal_us]' } };
    copies.push(copy({ time, data }, known + conflict.hours * HOUR));
  }
  return copies;
}

function fail(): never {
  throw new Error('there is no such unit');
}

describe('a unit that is followed live', () => {
  it('ends as a replay of the same facts does, whatever came late, twice or contradicted, in whatever batches', async () => {
    let alerts = 0;
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...units.keys()),
        fc.infiniteStream(fate),
        fc.boolean(),
        async (index, fates, inTime) => {
          const { unit, lines } = units[index] ?? fail();
          const messages = lines
            .flatMap((line) => {
              const fate = fates.next().value;
              return copiesOf(line, inTime ? { ...fate, comesLate: 0 } : fate).map((copy) => ({
                ...copy,
                ends: fate.ends,
              }));
            })
            .sort((a, b) => a.comes - b.comes)
            .map(({ raw, ends }, index) => ({ received: receive(unit, index + 1, raw), ends }));
          const live = new FollowedUnit(unit);
          let batch: Received[] = [];
          for (const { received, ends } of messages) {
            batch.push(received);
            if (!ends) continue;
            await live.receive(batch);
            batch = [];
          }
          await live.receive(batch);

          const { standing } = settle(messages.map(({ received }) => received));
          const facts = standing.map(({ fact }) => fact).sort(byKnown);
          const whole = follow(unit, newHead(unit, rules.fold), facts, { rules });
          const { state, open, knownUntil, place, firstDate } = whole.head;
          expect(live.head).toMatchObject({ state, open, knownUntil, place, firstDate });
          const keys = whole.transitions.map(({ key }) => key).sort();
          const told = [...new Set(live.told.map(({ key }) => key))].sort();
          // Who is told of things as they become known is told each, and nothing else.
          const instants = new Set(messages.map(({ received }) => received.fact.known));
          if (inTime && instants.size === messages.length) expect(told).toEqual(keys);
          expect(told).toEqual(expect.arrayContaining(keys));
          expect(lastHeard(live.told)).toEqual(lastHeard(whole.transitions));
          const episodes = [...whole.ended, ...open];
          alerts += episodes.length;
          expect(Object.fromEntries(live.alerts)).toEqual(
            Object.fromEntries(
              episodes.map((episode) => [`${episode.kind}-${episode.raisedAt}`, JSON.stringify(episode)]),
            ),
          );
          expect(Object.fromEntries(live.months)).toMatchObject(
            Object.fromEntries(whole.months.map((month) => [month.month, month])),
          );
        },
      ),
      { numRuns: 12, endOnFailure: true },
    );
    // Otherwise the comparison of alerts would say nothing.
    expect(alerts).toBeGreaterThan(15);
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
      const before = JSON.stringify([live.head.state, live.head.open, live.told, [...live.alerts]]);
      for (const { fact } of received.filter((_, index) => index % 13 === 0)) await live.touch([fact.id]);
      expect(JSON.stringify([live.head.state, live.head.open, live.told, [...live.alerts]])).toBe(before);
    }
  });
});
