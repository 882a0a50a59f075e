import type { Alert } from '../../shared/alerts.ts';
import type { Handling } from '../live/alertActs.ts';

/** A unit with open alerts as the list of a company shows it: one row, as of when it was last looked at. */
export interface Attention {
  readonly unitId: string;
  readonly siteId: string;
  readonly siteName: string | null;
  readonly region: string;
  readonly timeZone: string;
  /** The alert that weighs most, and how many more are open. */
  readonly alertId: string;
  readonly kind: Alert['kind'];
  readonly cause: Alert['cause'];
  readonly severity: Alert['severity'];
  /** RFC 3339. */
  readonly since: string;
  readonly sentence: string;
  readonly probability: number;
  /** What people did about that alert. */
  readonly handling: Handling;
  readonly otherAlerts: number;
  readonly hardDaysSoFar: number;
  readonly hardDaysExpected: number;
  /** Local dates, `YYYY-MM-DD`, of the site. */
  readonly saltRunsOut: string | null;
  readonly nextRegeneration: string | null;
  readonly lastReported: string | null;
  /** Harm by probability: the list is sorted by it. */
  readonly weight: number;
}
