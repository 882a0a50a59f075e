import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { Received } from '../replay/received.ts';
import { replayUnit } from '../replay/replayUnit.ts';
import type { Rules } from '../watch/rules.ts';
import { compareAlerts } from './compare.ts';
import { rowOf, type TrialRow } from './row.ts';

/** Two sets of rules to try beside each other, and up to when. */
export interface TrialOptions {
  readonly present: Rules;
  readonly proposed: Rules;
  readonly until: Instant;
}

/** What a change of the rules does to the alerts of one unit. */
export interface UnitTrial {
  readonly unitId: string;
  /** Local days from the first that was reported up to the end; 0 if none was. */
  readonly days: number;
  readonly rows: readonly TrialRow[];
  /** Lines that are neither copies nor in conflict. */
  readonly accepted: number;
}

/** Replays a unit's events by the rules as they are and by those proposed, and sets the alerts beside each other. */
export function tryRules(
  unit: Unit,
  received: readonly Received[],
  { present, proposed, until }: TrialOptions,
): UnitTrial {
  const { alerts, firstDate, accepted } = replayUnit(unit, received, { rules: present, until });
  const after = replayUnit(unit, received, { rules: proposed, until }).alerts;
  const days = firstDate === undefined ? 0 : Math.max(0, unit.zone.dateAt(until) - firstDate + 1);
  const rows = compareAlerts(alerts, after).map((pair) => rowOf(unit.unitId, pair));
  return { unitId: unit.unitId, days, rows, accepted };
}
