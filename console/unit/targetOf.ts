import type { Target } from '../attention/acts/target.ts';
import type { Alert, Story } from './types.ts';

/** What the acts act upon: the unit, and one of its alerts. Without one named, the open one that is most severe. */
export function targetOf(
  { unit, alerts }: Story,
  alert: Alert | null,
  outOfService: { readonly by: string } | null,
): Target {
  const meant = alert ?? openAlerts(alerts)[0] ?? null;
  return {
    unitId: unit.unitId,
    site: unit.siteName ?? unit.siteId,
    timeZone: unit.timeZone,
    alert: meant && {
      alertId: meant.alertId,
      sentence: meant.summary,
      acknowledged: meant.acknowledged,
      shelved: meant.shelved,
    },
    outOfService,
    // The page lists its visits, each with an act of its own.
    visit: null,
  };
}

const ORDER = { urgent: 0, soon: 1, routine: 2 } as const;

/** Those that are not over, the most severe first, then the oldest. */
export function openAlerts(alerts: readonly Alert[]): Alert[] {
  return alerts
    .filter(({ clearedAt }) => clearedAt === null)
    .toSorted(
      (a, b) => ORDER[a.severity] - ORDER[b.severity] || Date.parse(a.raisedAt) - Date.parse(b.raisedAt),
    );
}
