import type { Rules } from '../../lib/watch/rules.ts';
import { ALERT_KINDS, SEVERITIES } from '../../shared/alerts.ts';
import { QUARANTINE_REASONS, type QuarantineReason } from '../../shared/quarantine.ts';
import { recordOf } from '../../shared/records.ts';
import type { Summary } from '../../shared/summary.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import type { AlertTally } from './alertLog.ts';
import type { FoldedFleet } from './foldFleet.ts';

/** What a summary says beside what became of the fleet. */
export interface Run {
  read: number;
  /** Of the lines that were rejected on their own. */
  rejections: ReadonlyMap<QuarantineReason, number>;
  conflicts: number;
  units: number;
  until: Instant | undefined;
  complete: boolean;
  rules: Rules;
  seconds: number;
}

/** Counts what a replay did. */
export function summaryOf(folded: FoldedFleet, { raised }: AlertTally, run: Run): Summary {
  const reasons = new Map(run.rejections).set('conflicting-duplicate', run.conflicts);
  const kinds = new Map(
    ALERT_KINDS.map((kind) => [kind, SEVERITIES.reduce((sum, severity) => sum + raised[kind][severity], 0)]),
  );
  return {
    read: run.read,
    accepted: folded.accepted,
    duplicate: folded.duplicates,
    quarantined: tally(QUARANTINE_REASONS, reasons),
    units: run.units,
    unitsReporting: folded.unitsReporting,
    alerts: tally(ALERT_KINDS, kinds),
    until: run.until === undefined ? null : formatInstant(run.until),
    complete: run.complete,
    elapsedSeconds: Number(run.seconds.toFixed(3)),
    eventsPerSecond: Math.round(run.read / run.seconds),
    rules: run.rules,
  };
}

/** Counts by name, each name once and zeros too, after their total. */
function tally<Name extends string>(names: readonly Name[], counts: ReadonlyMap<Name, number>) {
  const each = recordOf(names, (name) => counts.get(name) ?? 0);
  const total = names.reduce((sum, name) => sum + each[name], 0);
  return { total, ...each };
}
