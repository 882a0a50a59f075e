import { createHash } from 'node:crypto';
import { byKnown, follow } from '../../../lib/live/follow.ts';
import { type Head, newHead } from '../../../lib/live/head.ts';
import { alertIdOf, transition } from '../../../lib/live/transitions.ts';
import { newMonth } from '../../../lib/salt/monthAccount.ts';
import type { Attention } from '../../../lib/store/attention.ts';
import type { Person } from '../../../lib/store/person.ts';
import type { Outbox, Quarantined } from '../../../lib/store/store.ts';
import { toAlert } from '../../../lib/watch/episode.ts';
import { rulesSchema } from '../../../lib/watch/rules.ts';
import { admit } from '../../../shared/admission.ts';
import type { Alert } from '../../../shared/alerts.ts';
import { type UnitRecord, unitRecordSchema } from '../../../shared/registry.ts';
import { wire } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { lines, records } from '../../support/smallFleet.ts';

const rules = rulesSchema.parse({});

/** The heads of a unit of the small fleet: new, put away, and last. */
export function headsOf(unitId: string): Head[] {
  const { units } = registryOf(...records);
  const unit = units.get(unitId);
  if (!unit) throw new Error(`${unitId} is not in the small fleet`);
  const facts = lines.flatMap((line) => {
    const admission = admit(line, units);
    return admission.accepted && admission.unit.unitId === unitId ? [admission.fact] : [];
  });
  const keyOf = (head: Head) => createHash('sha256').update(JSON.stringify(head)).digest('base64url');
  const first = newHead(unit, rules.fold);
  const followed = follow(unit, first, facts.sort(byKnown), { rules, keyOf });
  return [first, ...followed.checkpoints.map(({ head }) => head), followed.head];
}

/** An outbox with something in each of its parts: the meter of the small fleet's last unit has stalled. */
const IN_ALDER = { region: 'alder-county', formerRegions: [] };

export function outboxOf(unitId: string): Outbox {
  const [episode] = headsOf('u-19').at(-1)?.open ?? [];
  if (!episode) throw new Error('the stalled meter has raised no alert');
  return {
    alerts: [{ alertId: alertIdOf(episode), alert: toAlert(unitId, episode) }],
    withdrawn: ['overrun-1772355600000'],
    handled: [
      {
        alertId: alertIdOf(episode),
        since: episode.raisedAt,
        acts: [{ act: 'acknowledge', by: 'desk', at: episode.raisedAt + 1 }],
      },
    ],
    months: [newMonth(20_560, IN_ALDER), newMonth(20_520, IN_ALDER)],
    lostMonths: [20_454],
    transitions: [transition(unitId, episode, 'raised', episode.raisedAt)],
  };
}

export function alertOf(over: Partial<Alert>): Alert {
  const [listed] = outboxOf('u-17').alerts;
  if (!listed) throw new Error('there is no alert');
  return { ...listed.alert, ...over };
}

export function recordOf(companyId: string, unitId: string): UnitRecord {
  return unitRecordSchema().parse(unitRecord({ companyId, unitId }));
}

/** A line of an event as it is kept. */
export function lineOf(event: { id: string; lb: number; known: number; notes?: string }): string {
  const time = Date.UTC(2026, 2, 20, 12);
  const mass = { value: event.lb, unit: '[lb_av]' };
  const { notes } = event;
  return JSON.stringify(wire('salt-level', event.id, time, { mass, notes }, time + event.known * 1_000));
}

/** A message that was set aside, so many seconds after the first. */
export function messageOf(companyId: string, seconds: number): Quarantined {
  return {
    companyId,
    sender: 'u-17',
    receivedAt: 1_772_000_000_000 + seconds * 1_000,
    reason: 'not-json',
    detail: 'Unexpected token',
    raw: `{"half": ${seconds}`,
  };
}

export function personOf(over: Partial<Person>): Person {
  return {
    personId: 'd-1',
    mail: 'dana@told-water.example',
    name: 'Dana Reyes',
    role: 'dispatcher',
    units: 'us',
    ...over,
  };
}

/** A row of the list of units that need attention. */
export function rowOf(over: Partial<Attention>): Attention {
  return {
    unitId: 'u-17',
    siteId: 'site-17',
    siteName: null,
    region: 'alder-county',
    timeZone: 'America/New_York',
    handling: { acknowledged: null, shelved: null },
    alertId: 'no-flow-1772355600000',
    kind: 'no-flow',
    cause: 'meter-stalled',
    severity: 'soon',
    since: '2026-03-01T09:00:00.000Z',
    sentence: 'The meter has registered nothing for 9 days.',
    probability: 0.9,
    otherAlerts: 0,
    hardDaysSoFar: 2,
    hardDaysExpected: 13.5,
    saltRunsOut: null,
    nextRegeneration: null,
    lastReported: '2026-03-10',
    weight: 12,
    ...over,
  };
}
