import * as z from 'zod';
import { SEVERITIES, type Severity } from '../../shared/alerts.ts';
import { dayOf, type ScoredUnit } from './scoredUnit.ts';
import { quantile } from './statistics.ts';

const share = z.number().min(0).max(1);
const rate = z.number().min(0);

/** What a dispatcher of 2,000 units sees. */
export const loadScoreSchema = z.object({
  alarmsADay: rate.describe('Alerts raised a day, mean'),
  medianDay: rate.describe('Alerts raised on the median day'),
  p95Day: rate.describe('Alerts raised on a day that 19 in 20 do not exceed'),
  worstDay: rate.describe('Alerts raised on the worst day'),
  twiceOnADay: z
    .int()
    .min(0)
    .describe('Further alerts on a day on which one unit had raised one, not scaled'),
  chattering: z
    .int()
    .min(0)
    .describe('Alerts that one of the same unit and kind follows within two days of its end, not scaled'),
  shareBySeverity: z
    .record(z.enum(SEVERITIES), share)
    .describe('Share of the alerts whose severity was this at the worst'),
});

export type LoadScore = z.infer<typeof loadScoreSchema>;

const UNITS = 2000;
const CHATTER_MS = 2 * 86_400_000;

export function loadScore(units: readonly ScoredUnit[]): LoadScore {
  const byDay = new Map<number, number>();
  const severities = new Map<Severity, number>();
  let twiceOnADay = 0;
  let chattering = 0;
  let raised = 0;
  for (const unit of units) {
    const own = unit.alerts.map((alert) => dayOf(unit, alert.raisedAt));
    for (const day of own) byDay.set(day, (byDay.get(day) ?? 0) + 1);
    twiceOnADay += own.length - new Set(own).size;
    raised += own.length;
    chattering += chatteringOf(unit);
    for (const { severity, history } of unit.alerts) {
      const worst = SEVERITIES.findLast((each) => history.some((step) => step.severity === each)) ?? severity;
      severities.set(worst, (severities.get(worst) ?? 0) + 1);
    }
  }
  const first = units.reduce((least, { from }) => Math.min(least, from), Infinity);
  // What the last day showed is raised on the day after.
  const last = units.reduce((most, { to }) => Math.max(most, to + 1), -Infinity);
  const perDay = Array.from(
    { length: units.length === 0 ? 0 : last - first + 1 },
    (_, day) => ((byDay.get(first + day) ?? 0) * UNITS) / units.length,
  );
  const unitDays = units.reduce((sum, { from, to }) => sum + to - from + 1, 0);
  const shareOfSeverity = (severity: Severity) =>
    raised === 0 ? 0 : (severities.get(severity) ?? 0) / raised;
  return {
    alarmsADay: unitDays === 0 ? 0 : (raised / unitDays) * UNITS,
    medianDay: quantile(perDay, 0.5) ?? 0,
    p95Day: quantile(perDay, 0.95) ?? 0,
    worstDay: quantile(perDay, 1) ?? 0,
    twiceOnADay,
    chattering,
    shareBySeverity: {
      routine: shareOfSeverity('routine'),
      soon: shareOfSeverity('soon'),
      urgent: shareOfSeverity('urgent'),
    },
  };
}

function chatteringOf({ alerts }: ScoredUnit): number {
  return alerts.filter(({ kind, clearedAt }) => {
    if (clearedAt === null) return false;
    const ended = Date.parse(clearedAt);
    return alerts.some(
      (again) =>
        again.kind === kind &&
        Date.parse(again.raisedAt) >= ended &&
        Date.parse(again.raisedAt) - ended < CHATTER_MS,
    );
  }).length;
}
