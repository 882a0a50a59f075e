import { describe, expect, it } from 'vitest';
import { byKnown, type Followed, follow } from '../../../lib/live/follow.ts';
import { newHead } from '../../../lib/live/head.ts';
import { alertIdOf } from '../../../lib/live/transitions.ts';
import type { Received } from '../../../lib/replay/received.ts';
import { settle } from '../../../lib/replay/standing.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { readmit } from '../../../shared/readmit.ts';
import type { Unit } from '../../../shared/registry.ts';
import { type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, play } from '../../support/household.ts';
import { FollowedUnit } from '../../support/keptPast.ts';
import { lastHeard } from '../../support/replayed.ts';

const HOUR = 3_600_000;
const zone = zoneOf('America/New_York');
const rules = rulesSchema.parse({});

/** A meter that stalls on day 40, with readings of the salt so frequent that a checkpoint is never long ago. */
const story = [
  ...play({ days: 80, gallons: (day) => 150 + (day % 7) * 9, registers: (day) => (day < 40 ? 1 : 0) }),
  ...Array.from({ length: 200 }, (_, index) => {
    const at = instantOf(60, 0) + index * HOUR;
    return wire('salt-level', `salt-${index}`, at, { mass: { value: 90, unit: '[lb_av]' } }, at + 60_000);
  }),
];

function instantOf(day: number, hour: number): number {
  return zone.startOf(FIRST_DATE + day) + hour * HOUR;
}

function act(id: string, name: string, day: number, hour: number): Wire {
  const at = instantOf(day, hour) + 1;
  return wire('alert-act', id, at, { act: name, by: 'desk' }, at);
}

/** Follows a unit live through a story with some acts, then through a copy that comes late. */
async function followLive(unit: Unit, acts: readonly Wire[], late: Wire) {
  const inTurn = [...story, ...acts].map((event, index) => receive(unit, event, index));
  inTurn.sort((a, b) => byKnown(a.fact, b.fact));
  const live = new FollowedUnit(unit);
  for (const each of inTurn) await live.receive([each]);
  const told = live.told.length;
  await live.receive([receive(unit, late, 9_999)]);
  const { standing } = settle([...inTurn, receive(unit, late, 9_999)]);
  const facts = standing.map(({ fact }) => fact).sort(byKnown);
  return {
    live,
    after: live.told.slice(told),
    whole: follow(unit, newHead(unit, rules.fold), facts, { rules }),
  };
}

function receive(unit: Unit, event: Wire, line: number): Received {
  const raw = JSON.stringify(event);
  return { line, raw, fact: readmit(raw, unit) };
}

function alertsOf({ ended, head }: Followed): Record<string, string> {
  const episodes = [...ended, ...head.open];
  return Object.fromEntries(episodes.map((episode) => [alertIdOf(episode), JSON.stringify(episode)]));
}

describe('what was told of an alert and never was', () => {
  const [unit] = registryOf(unitRecord()).units.values();
  if (!unit) throw new Error('the record is none');

  it('its end: it stands as it did before, and people hear so', async () => {
    const removal = act('act-1', 'remove-from-service', 65, 9);
    const { live, after, whole } = await followLive(unit, [removal], act('act-1', 'unshelve', 65, 8));
    expect(live.head.open.map(({ kind }) => kind)).toContain('no-flow');
    const stall = after.filter(({ alertId }) => alertId.startsWith('no-flow'));
    expect(stall.map(({ change }) => change)).toEqual(['worsened']);
    expect(lastHeard(live.told)).toEqual(lastHeard(whole.transitions));
    expect(Object.fromEntries(live.alerts)).toEqual(alertsOf(whole));
  });

  it('its coming back: it is over as it was before, and no less real', async () => {
    const acts = [act('act-1', 'remove-from-service', 64, 9), act('act-2', 'return-to-service', 65, 20)];
    const { live, after, whole } = await followLive(unit, acts, act('act-2', 'unshelve', 65, 19));
    expect(live.head.open).toEqual([]);
    const stall = after.filter(({ alertId }) => alertId.startsWith('no-flow'));
    expect(stall.map(({ change }) => change)).toEqual(['cleared']);
    expect(lastHeard(live.told)).toEqual(lastHeard(whole.transitions));
    expect(Object.fromEntries(live.alerts)).toEqual(alertsOf(whole));
  });
});
