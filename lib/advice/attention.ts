import type { UnitRecord } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import type { Head } from '../live/head.ts';
import { alertIdOf } from '../live/transitions.ts';
import type { Attention } from '../store/attention.ts';
import { outlook } from '../unit/outlook.ts';
import type { Rules } from '../watch/rules.ts';
import { saltRunsOut } from '../watch/saltLow.ts';
import { harmOf, probabilityOf, weightOf } from './harm.ts';

/**
 * The row of a unit in the list of those that need attention; null where nothing is open. What people did about its worst
 * alert is not in the head, and left to be added.
 */
export function attentionOf(
  record: UnitRecord,
  head: Pick<Head, 'state' | 'open'>,
  rules: Rules,
): Omit<Attention, 'handling'> | null {
  const unit = toUnit(record);
  const { state, open } = head;
  const { lastReported } = state;
  const asOf = lastReported ?? unit.installedOn;
  const harm = harmOf(unit, state, open, asOf);
  const [worst, ...others] = [...open].sort((a, b) => weightOf(b, harm) - weightOf(a, harm));
  if (!worst) return null;
  const forecast = lastReported === null ? null : outlook(unit, state, lastReported);
  const saltOut = saltRunsOut(unit, state, rules['salt-low']);
  return {
    unitId: unit.unitId,
    siteId: unit.siteId,
    siteName: record.site?.name ?? null,
    region: unit.region,
    timeZone: record.timeZone,
    alertId: alertIdOf(worst),
    kind: worst.kind,
    cause: worst.cause,
    severity: worst.severity,
    since: formatInstant(worst.raisedAt),
    sentence: worst.summary,
    probability: probabilityOf(worst),
    otherAlerts: others.length,
    hardDaysSoFar: harm.hardDaysSoFar,
    hardDaysExpected: Math.round(10 * harm.hardDaysExpected) / 10,
    saltRunsOut: saltOut === null ? null : formatLocalDate(saltOut),
    nextRegeneration: forecast?.nextRegeneration.p50 ?? null,
    lastReported: lastReported === null ? null : formatLocalDate(lastReported),
    weight: weightOf(worst, harm),
  };
}
