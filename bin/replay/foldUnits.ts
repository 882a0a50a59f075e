import type { Received } from '../../lib/replay/received.ts';
import { replayUnit } from '../../lib/replay/replayUnit.ts';
import type { SaltNeed } from '../../lib/salt/deliveries/delivery.ts';
import { needOf } from '../../lib/salt/deliveries/needOf.ts';
import type { KnownMonths } from '../../lib/salt/knownMonths.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import type { Alert } from '../../shared/alerts.ts';
import type { Rejection } from '../../shared/quarantine.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { forecastLine } from './forecastLine.ts';

/** What became of neighbouring units, in the order of the registry. */
export interface Folded {
  accepted: number;
  duplicates: number;
  alerts: Alert[];
  /** Lines of forecasts.ndjson. */
  forecasts: string;
  conflicts: Rejection[];
  /** By unit. */
  accounts: (Pick<KnownMonths, 'months' | 'firstDate' | 'owesUntil'> & { reporting: boolean })[];
  /** By unit, where it is asked for. */
  needs: SaltNeed[];
}

export interface FoldOptions {
  rules: Rules;
  until: Instant;
  /** What is told beside alerts and accounts: a forecast a day, or at the end what salt each unit will need. */
  tells?: 'forecasts' | 'deliveries';
}

/** Folds units, each from what it received. */
export function foldUnits(
  units: readonly Unit[],
  received: readonly (readonly Received[])[],
  options: FoldOptions,
): Folded {
  const folded: Folded = {
    accepted: 0,
    duplicates: 0,
    alerts: [],
    forecasts: '',
    conflicts: [],
    accounts: [],
    needs: [],
  };
  const isForDeliveries = options.tells === 'deliveries';
  units.forEach((unit, index) => {
    const replayed = replayUnit(unit, received[index] ?? [], {
      ...options,
      // They take most of the time.
      onForecast: isForDeliveries
        ? undefined
        : (forecast) => {
            folded.forecasts += forecastLine(forecast);
          },
    });
    if (isForDeliveries) folded.needs.push(needOf(unit, replayed.head, options.rules, options.until));
    folded.accepted += replayed.accepted;
    folded.duplicates += replayed.duplicates;
    folded.alerts.push(...replayed.alerts);
    for (const { line, raw, fact } of replayed.conflicts) {
      const detail = `another event of the id ${fact.id} stands`;
      folded.conflicts.push({ line, reason: 'conflicting-duplicate', detail, raw });
    }
    folded.accounts.push({
      months: replayed.months,
      firstDate: replayed.firstDate,
      owesUntil: replayed.head.outOfService?.at,
      reporting: replayed.accepted > 0,
    });
  });
  return folded;
}
