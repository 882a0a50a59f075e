import type { Received } from '../../lib/replay/received.ts';
import { replayUnit } from '../../lib/replay/replayUnit.ts';
import type { SaltNeed } from '../../lib/salt/deliveries/delivery.ts';
import { needOf } from '../../lib/salt/deliveries/needOf.ts';
import type { KnownMonths } from '../../lib/salt/knownMonths.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import type { Forecast } from '../../shared/forecasts.ts';
import type { Rejection } from '../../shared/quarantine.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { type AlertEntry, entryOf } from './alertLog.ts';
import { AsciiBytes } from './asciiBytes.ts';
import { writeForecast } from './forecastLine.ts';

/** What became of neighbouring units, in the order of the registry. */
export interface Folded {
  accepted: number;
  duplicates: number;
  alerts: AlertEntry[];
  /** Lines of forecasts.ndjson. */
  forecasts: Uint8Array<ArrayBuffer>;
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

/**
 * Folds units, each from what it received.
 *
 * @param receivedBy what the unit at a place among them received
 */
export function foldUnits(
  units: readonly Unit[],
  receivedBy: (index: number) => readonly Received[],
  { rules, until, tells }: FoldOptions,
): Folded {
  const forecasts = new AsciiBytes();
  const folded: Folded = {
    accepted: 0,
    duplicates: 0,
    alerts: [],
    forecasts: new Uint8Array(),
    conflicts: [],
    accounts: [],
    needs: [],
  };
  const isForDeliveries = tells === 'deliveries';
  // They take most of the time.
  const onForecast = isForDeliveries ? undefined : (forecast: Forecast) => writeForecast(forecasts, forecast);
  units.forEach((unit, index) => {
    const replayed = replayUnit(unit, receivedBy(index), { rules, until, onForecast });
    if (isForDeliveries) folded.needs.push(needOf(unit, replayed.head, rules, until));
    folded.accepted += replayed.accepted;
    folded.duplicates += replayed.duplicates;
    for (const alert of replayed.alerts) folded.alerts.push(entryOf(alert));
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
  folded.forecasts = forecasts.bytes;
  return folded;
}
