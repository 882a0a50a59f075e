import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Alerting } from '../../../lib/live/alerting.ts';
import { byKnown, type Followed, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { alertIdOf, type Transition } from '../../../lib/live/transitions.ts';
import { parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import type { Episode } from '../../../lib/watch/episode.ts';
import type { WatchedKind } from '../../../lib/watch/kind.ts';
import { type Rules, rulesSchema } from '../../../lib/watch/rules.ts';
import { type AlertKind, SEVERITIES } from '../../../shared/alerts.ts';
import { readmit } from '../../../shared/readmit.ts';
import type { Unit } from '../../../shared/registry.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, play } from '../../support/household.ts';
import { noonsBetween } from '../../support/noonsBetween.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;
const zone = zoneOf('America/New_York');
const [unit] = registryOf(unitRecord()).units.values();

function episodesOf({ ended, head }: Followed): Episode[] {
  return [...ended, ...head.open];
}

/** Pairs of episodes of one kind, one after the other. */
function returns(episodes: readonly Episode[]): [before: Episode, after: Episode][] {
  const sorted = [...episodes].sort((a, b) => a.raisedAt - b.raisedAt);
  return sorted.flatMap((after, index): [Episode, Episode][] => {
    const before = sorted.slice(0, index).findLast(({ kind }) => kind === after.kind);
    return before ? [[before, after]] : [];
  });
}

function followAll(of: Unit, events: readonly object[], rules: Rules, until?: Instant): Followed {
  const facts = events.map((event) => readmit(JSON.stringify(event), of)).sort(byKnown);
  return follow(of, newHead(of, rules.fold), facts, { rules, until });
}

describe('an alert that comes back', () => {
  it('is the same alert, within whatever window, in a fleet with every fault', () => {
    const plans = planFleet({
      units: 36,
      days: 200,
      start: 20_500,
      seed: 3,
      faults: parseFaultMix('balanced'),
    });
    const fleet = plans.map((plan) => {
      const { record, events } = simulateUnit(plan);
      const [simulated] = registryOf(record).units.values();
      if (!simulated) throw new Error('the simulated unit has no record');
      return { simulated, events };
    });
    const returnedWithin = (windowHours: number, reopenHours: number) =>
      fleet.reduce((count, { simulated, events }) => {
        const rules = rulesSchema.parse({ lifecycle: { reopenHours } });
        const soon = returns(episodesOf(followAll(simulated, events, rules))).filter(
          ([{ clearedAt }, { raisedAt }]) => raisedAt - (clearedAt ?? raisedAt) <= windowHours * HOUR,
        );
        return count + soon.length;
      }, 0);
    expect(returnedWithin(720, 720)).toBe(0);
    // Otherwise there would be nothing to damp.
    expect(returnedWithin(720, 0)).toBeGreaterThan(3);
  }, 60_000);

  it('is raised once, whatever a cause and its consequence do; the consequence never comes back beside its cause', () => {
    const finding = fc.option(
      fc.record({ severity: fc.option(fc.constantFrom(...SEVERITIES)), lasts: fc.boolean() }),
    );
    const look = fc.record({
      cause: finding,
      consequence: finding,
      other: finding,
      hours: fc.integer({ min: 1, max: 60 }),
      service: fc.option(fc.constantFrom('remove-from-service' as const, 'return-to-service' as const), {
        freq: 8,
      }),
    });
    const rules = rulesSchema.parse({ lifecycle: { reopenHours: 48, visitDays: 2 } });
    let reopened = 0;
    fc.assert(
      fc.property(fc.array(look, { minLength: 20, maxLength: 60 }), (looks) => {
        if (!unit) throw new Error('the record is none');
        const head = newHead(unit, rules.fold);
        const alerting = new Alerting(unit, rules, head);
        // One that is asked only at the end what has become of each alert on the way.
        const unasked = new Alerting(unit, rules, head);
        const told: Transition[] = [];
        let at = 0;
        for (const { hours, service, ...found } of looks) {
          at += hours * HOUR;
          const accepted = { id: 'a', time: at, known: at, at };
          const act = { kind: 'alert-act', ...accepted, act: service ?? 'acknowledge', by: 'desk' } as const;
          if (service) for (const each of [alerting, unasked]) each.act(act);
          const kinds = [
            scripted('no-flow', [], found.cause),
            scripted('overrun', ['no-flow'], found.consequence),
            scripted('salt-low', [], found.other),
          ];
          for (const each of [alerting, unasked]) {
            each.look(head.state, at, kinds);
            each.forget(at);
          }
          told.push(...alerting.transitions.slice(told.length));
          const isOpen = (kind: AlertKind) => alerting.open.find((each) => each.kind === kind);
          if ((isOpen('no-flow')?.severity ?? 'routine') !== 'routine') {
            expect(isOpen('overrun')).toBeUndefined();
          }
          if (alerting.outOfService) expect(alerting.open).toEqual([]);
          // What is kept does not grow with what has been.
          for (const { clearedAt } of alerting.recent) {
            expect(at - (clearedAt ?? 0)).toBeLessThanOrEqual(2 * DAY);
          }
        }
        expect(unasked.transitions).toEqual(told);
        const episodes = [...alerting.ended, ...alerting.open];
        for (const [before, after] of returns(episodes)) {
          expect(after.raisedAt - (before.clearedAt ?? after.raisedAt)).toBeGreaterThan(48 * HOUR);
        }
        const raised = alerting.transitions.filter(({ change }) => change === 'raised');
        expect(raised.map(({ alertId }) => alertId).sort()).toEqual(episodes.map(alertIdOf).sort());
        // Whoever hears each change in its turn knows what is open.
        const heard = new Map(alerting.transitions.map(({ alertId, change }) => [alertId, change]));
        const open = [...heard].filter(([, change]) => change !== 'cleared').map(([alertId]) => alertId);
        expect(open.sort()).toEqual(alerting.open.map(alertIdOf).sort());
        reopened += episodes.filter(({ lapse }) => lapse).length;
      }),
    );
    expect(reopened).toBeGreaterThan(50);
  });
});

/** A kind that sees what it is told to see. */
function scripted(
  kind: AlertKind,
  consequenceOf: AlertKind[],
  finding: { severity: (typeof SEVERITIES)[number] | null; lasts: boolean } | null,
): WatchedKind<Rules> {
  const words = { summary: () => 'seen', evidence: () => ({}) };
  const look = () => finding && { probability: 0.9, causes: [], ...finding, ...words };
  return { kind, consequenceOf, look };
}

describe('a unit out of service', () => {
  /** A meter that stalls on day 60 and is told of by day 75. */
  const story = play({
    days: 100,
    gallons: (day) => 150 + (day % 7) * 9,
    registers: (day) => (day < 60 ? 1 : 0),
  });
  const instantOf = (day: number, hour: number) => zone.startOf(FIRST_DATE + day) + hour * HOUR;
  const act = (name: string, day: number, hour: number, until?: Instant): Wire =>
    wire('alert-act', `act-${name}-${day}`, instantOf(day, hour), {
      ...{ act: name, by: 'desk' },
      ...(until !== undefined && { until: new Date(until).toISOString() }),
    });
  const rules = rulesSchema.parse({});
  const stalls = (more: readonly Wire[], until?: Instant) => {
    if (!unit) throw new Error('the record is none');
    const followed = followAll(unit, [...story, ...more], rules, until);
    return { ...followed, stall: episodesOf(followed).filter(({ kind }) => kind === 'no-flow') };
  };

  it('raises nothing, ends what is open, and is looked at again at the very end of that', () => {
    const removed = instantOf(80, 9);
    const until = instantOf(90, 15);
    const { stall, head, transitions } = stalls(
      [act('remove-from-service', 80, 9, until)],
      instantOf(99, 23),
    );
    expect(stall).toHaveLength(2);
    expect(stall[0]).toMatchObject({ clearedAt: removed, endedBy: 'out-of-service' });
    // It stalls still: ten days later that is another alert.
    expect(stall[1]).toMatchObject({ raisedAt: until, clearedAt: null });
    expect(head.outOfService).toBeNull();
    const within = transitions.filter(({ at }) => at > removed && at < until);
    expect(within).toEqual([]);
  });

  it('goes on with the same alert where it is back soon, and until then keeps its peace at every noon', () => {
    const { stall, transitions } = stalls([
      act('remove-from-service', 80, 9),
      act('return-to-service', 81, 16),
    ]);
    expect(stall).toHaveLength(1);
    expect(stall[0]).toMatchObject({ clearedAt: null, lapse: { times: 1, reopenedAt: instantOf(81, 16) } });
    expect(stall[0]?.endedBy).toBeUndefined();
    const changes = transitions
      .filter(({ alertId }) => alertId.startsWith('no-flow'))
      .map(({ change }) => change);
    expect(changes.filter((change) => change === 'raised')).toHaveLength(1);
    expect(changes.slice(-2)).toEqual(['cleared', 'worsened']);
    const gone = stalls([act('remove-from-service', 80, 9)], instantOf(300, 0));
    expect(gone.head).toMatchObject({ open: [], outOfService: { at: instantOf(80, 9), until: null } });
    // Not even that it has been silent for half a year.
    expect(gone.transitions.every(({ at }) => at <= instantOf(80, 9))).toBe(true);
  });

  it('is not put out of service by what had ended before it became known', () => {
    const late = { ...act('remove-from-service', 80, 9, instantOf(81, 9)) };
    const known = { ...late, recordedtime: new Date(instantOf(85, 9)).toISOString() };
    expect(stalls([known]).stall).toEqual(stalls([]).stall);
  });
});

describe('what is done about an alert', () => {
  it('makes no difference to any alert, at whatever instant: noons included', () => {
    const events = play({
      days: 100,
      gallons: (day) => 150 + (day % 7) * 9,
      registers: (day) => (day < 60 ? 1 : 0),
    });
    const rules = rulesSchema.parse({});
    if (!unit) throw new Error('the record is none');
    const end = zone.startOf(FIRST_DATE + 140);
    const alone = followAll(unit, events, rules, end);
    expect(episodesOf(alone).map(({ kind }) => kind)).toContain('silent-unit');
    const noons = noonsBetween(zone, zone.startOf(FIRST_DATE + 60), end);
    const acts = noons.map((noon, index) =>
      wire('alert-act', `ack-${index}`, noon + (index % 3) * HOUR, {
        ...{ act: 'acknowledge', by: 'desk', alertId: `no-flow-${noon - DAY}` },
      }),
    );
    const acted = followAll(unit, [...events, ...acts], rules, end);
    expect(acted.acts).toHaveLength(acts.length);
    expect(episodesOf(acted)).toEqual(episodesOf(alone));
    expect(acted.transitions).toEqual(alone.transitions);
  });
});
