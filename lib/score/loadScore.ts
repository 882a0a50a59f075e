import { SEVERITIES } from '../../shared/alerts.ts';
import { unitYears } from './kindScores.ts';
import { dayOf, type ScoredUnit } from './scoredUnit.ts';
import { quantile } from './statistics.ts';

/** What a dispatcher of 2,000 units sees. */
export interface LoadScore {
  readonly alarmsADay: number;
  readonly medianDay: number;
  readonly p95Day: number;
  /** Unit-days on which one unit raised more than one alert. */
  readonly twiceOnADay: number;
  /** The same unit and kind raised again within two days of its end. */
  readonly chattering: number;
  readonly shareBySeverity: Readonly<Record<string, number>>;
}

const UNITS = 2000;
const CHATTER_MS = 2 * 86_400_000;
const DAYS_A_YEAR = 365.25;

export function loadScore(units: readonly ScoredUnit[]): LoadScore {
  const byDay = new Map<number, number>();
  const days = Math.max(0, ...units.map(({ from, to }) => to - from + 1));
  const first = Math.min(...units.map(({ from }) => from));
  let twiceOnADay = 0;
  let chattering = 0;
  const severities = new Map<string, number>();
  let raised = 0;
  for (const unit of units) {
    const own = unit.alerts.map((alert) => dayOf(unit, alert.raisedAt));
    for (const day of own) byDay.set(day, (byDay.get(day) ?? 0) + 1);
    twiceOnADay += own.length - new Set(own).size;
    raised += own.length;
    for (const alert of unit.alerts) {
      const worst = SEVERITIES.findLast((severity) =>
        alert.history.some((step) => step.severity === severity),
      );
      severities.set(worst ?? alert.severity, (severities.get(worst ?? alert.severity) ?? 0) + 1);
      const again = unit.alerts.some(
        ({ kind, raisedAt }) =>
          kind === alert.kind &&
          alert.clearedAt !== null &&
          Date.parse(raisedAt) >= Date.parse(alert.clearedAt) &&
          Date.parse(raisedAt) - Date.parse(alert.clearedAt) < CHATTER_MS,
      );
      if (again) chattering += 1;
    }
  }
  const perDay = Array.from(
    { length: days },
    (_, day) => ((byDay.get(first + day) ?? 0) * UNITS) / units.length,
  );
  return {
    alarmsADay: units.length === 0 ? 0 : (raised / unitYears(units) / DAYS_A_YEAR) * UNITS,
    medianDay: quantile(perDay, 0.5) ?? 0,
    p95Day: quantile(perDay, 0.95) ?? 0,
    twiceOnADay,
    chattering,
    shareBySeverity: Object.fromEntries(
      SEVERITIES.map((severity) => [severity, raised === 0 ? 0 : (severities.get(severity) ?? 0) / raised]),
    ),
  };
}
