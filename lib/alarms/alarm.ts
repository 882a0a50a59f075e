import type { Alert, AlertKind, Severity } from '../../shared/alerts.ts';
import { SEVERITIES } from '../../shared/alerts.ts';
import { type Instant, parseInstant } from '../../shared/time/instant.ts';

/** An alert and what people did about it: as much as the health of an alarm system hangs on. */
export interface HandledAlert {
  readonly alert: Pick<Alert, 'unitId' | 'kind' | 'severity' | 'raisedAt' | 'clearedAt' | 'history'>;
  readonly acknowledged: { readonly at: Instant } | null;
  readonly shelved: { readonly at: Instant; readonly until: Instant } | null;
}

/** One annunciation of an alarm. What has not happened yet lies at infinity. */
export interface Alarm {
  /** What the trade counts as one alarm: a unit and a kind. */
  readonly unitId: string;
  readonly kind: AlertKind;
  /** The most that it asked of people while it was open. */
  readonly severity: Severity;
  readonly raisedAt: Instant;
  readonly clearedAt: Instant;
  readonly acknowledgedAt: Instant;
  readonly shelved: { readonly from: Instant; readonly until: Instant } | null;
}

/**
 * Reads the times of an alert.
 *
 * @throws RangeError where a time is not RFC 3339, which the schema of an alert rules out
 */
export function toAlarm({ alert, acknowledged, shelved }: HandledAlert): Alarm {
  const rank = Math.max(...[alert, ...alert.history].map(({ severity }) => SEVERITIES.indexOf(severity)));
  return {
    unitId: alert.unitId,
    kind: alert.kind,
    severity: SEVERITIES[rank] ?? alert.severity,
    raisedAt: instantOf(alert.raisedAt),
    clearedAt: alert.clearedAt === null ? Number.POSITIVE_INFINITY : instantOf(alert.clearedAt),
    acknowledgedAt: acknowledged?.at ?? Number.POSITIVE_INFINITY,
    shelved: shelved && { from: shelved.at, until: shelved.until },
  };
}

/** The alarms of each unit and kind, in the order in which they were raised. */
export function bySource(alarms: readonly Alarm[]): Alarm[][] {
  const sources = new Map<string, Alarm[]>();
  for (const alarm of [...alarms].sort((a, b) => a.raisedAt - b.raisedAt)) {
    const key = `${alarm.unitId} ${alarm.kind}`;
    const same = sources.get(key);
    if (same) same.push(alarm);
    else sources.set(key, [alarm]);
  }
  return [...sources.values()];
}

function instantOf(text: string): Instant {
  const instant = parseInstant(text);
  if (instant === undefined) throw new RangeError(`${text} is no RFC 3339 time`);
  return instant;
}
