import { type Alert, SEVERITIES } from '../../shared/alerts.ts';
import { formatInstant, parseInstant } from '../../shared/time/instant.ts';

/**
 * A text that orders a company's alerts as they are listed. Open ones, ascending: the most urgent first, then the
 * oldest. Over ones, descending: the one cleared last first.
 */
export function alertOrder(alertId: string, { severity, raisedAt, clearedAt, unitId }: Alert): string {
  const first =
    clearedAt === null
      ? `${SEVERITIES.length - 1 - SEVERITIES.indexOf(severity)}#${inUtc(raisedAt)}`
      : inUtc(clearedAt);
  return `${first}#${unitId}#${alertId}`;
}

function inUtc(time: string): string {
  return formatInstant(parseInstant(time) ?? 0);
}
