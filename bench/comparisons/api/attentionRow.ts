import type { Attention } from '../../../lib/store/attention.ts';
import { ALERT_KINDS, type Alert, CAUSES, SEVERITIES } from '../../../shared/alerts.ts';

/** An invented row of the attention list, each number its own. */
export function attentionRow(index: number): Attention {
  const kind = ALERT_KINDS[index % ALERT_KINDS.length] ?? 'no-flow';
  return {
    ...{ unitId: unitIdOf(index), siteId: `site-${index}`, siteName: `${index} Mill Lane` },
    ...{ region: `region-${index % 23}`, timeZone: 'America/Chicago', alertId: `${kind}-1`, kind },
    ...{ cause: CAUSES[kind][0] ?? null, severity: SEVERITIES[index % 3] ?? 'soon' },
    since: '2026-11-01T12:00:00.000Z',
    sentence:
      'The bed treated 12 % more than its capacity: the household used more than the reserve held back.',
    ...{ probability: (index % 97) / 97, handling: { acknowledged: null, shelved: null } },
    ...{ otherAlerts: index % 2, hardDaysSoFar: index % 9, hardDaysExpected: index % 14 },
    ...{ saltRunsOut: '2027-01-05', nextRegeneration: '2026-12-01', lastReported: '2026-11-24' },
    weight: (index * 7919) % 1000,
  };
}

/** The open alert that a row is about. */
export function alertOf({ unitId, kind, cause, severity, since, probability, sentence }: Attention): Alert {
  const history = [{ at: since, severity, probability }];
  return {
    ...{ unitId, kind, cause, severity, raisedAt: since, clearedAt: null, probability, history },
    ...{ summary: sentence, evidence: { treatedGallons: 1_840, capacityGallons: 1_640 } },
  };
}

/** The id of the unit of a row. */
export function unitIdOf(index: number): string {
  return `unit-${String(index).padStart(6, '0')}`;
}
