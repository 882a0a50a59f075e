import * as z from 'zod';
import type { Alert, AlertKind } from '../../shared/alerts.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { tellingScore, tellingsOf } from './faultScores.ts';
import { kindScores } from './kindScores.ts';
import { runScore } from './runScore.ts';
import { faultsOf, type ScoredUnit } from './scoredUnit.ts';
import { stallScore } from './stallScore.ts';
import { zeroRunsOf } from './zeroRuns.ts';

const share = z.number().min(0).max(1).nullable();
const rate = z.number().min(0).nullable();

/** What somebody would score on the same fleet, one kind of alert. */
export const baselineSchema = z.object({
  kind: z.enum(['no-flow', 'silent-unit']),
  by: z
    .enum(['replay', 'never', 'simple'])
    .describe(
      'The replay that is scored; no alert ever; or a simple rule: a technician sent after 7 reported days without flow, a unit told silent after 2 days without any event',
    ),
  raised: z.int().min(0),
  recall: share,
  precision: share,
  medianDelayDays: rate.describe('From the day on which the fault showed'),
  falseAUnitYear: rate,
  falseAHealthyUnitYear: rate,
  sentByDay21: share.describe('Of stalls, by the day of the stall; null but for no-flow'),
  falseTripsAUnitYear: rate.describe('Null but for no-flow'),
  brierOfRuns: share.describe('On the days of runs without flow from the third on; null but for no-flow'),
});

export type Baseline = z.infer<typeof baselineSchema>;

const ZERO_DAYS = 7;
const SILENT_MS = 2 * 86_400_000;

/** The scores of the replay, of no alert at all, and of simple rules, from what the units' events say. */
export function baselines(units: readonly ScoredUnit[]): Baseline[] {
  return (['no-flow', 'silent-unit'] as const).flatMap((kind) =>
    (['replay', 'never', 'simple'] as const).map((by): Baseline => {
      const scored = units.map((unit) => ({ ...unit, alerts: alertsBy(by, kind, unit) }));
      const tellings = scored.flatMap((unit) =>
        tellingsOf(unit, faultsOf(unit).faults).filter(({ fault }) => fault.truth.kind === kind),
      );
      const { recall, medianDelayDays } = tellingScore(tellings);
      const own = kindScores(scored).scores.find((each) => each.kind === kind);
      const stall = kind === 'no-flow' ? stallScore(scored) : undefined;
      return {
        ...{ kind, by, recall, medianDelayDays },
        raised: own?.raised ?? 0,
        precision: own?.precision ?? null,
        falseAUnitYear: own?.falseAUnitYear ?? 0,
        falseAHealthyUnitYear: own?.falseAHealthyUnitYear ?? 0,
        sentByDay21: stall?.sentByDay21 ?? null,
        falseTripsAUnitYear: stall?.falseTripsAUnitYear ?? null,
        brierOfRuns: stall ? runScore(scored, undefined).fromThirdDay.brier : null,
      };
    }),
  );
}

function alertsBy(by: Baseline['by'], kind: Baseline['kind'], unit: ScoredUnit): Alert[] {
  if (by === 'replay') return unit.alerts.filter((alert) => alert.kind === kind);
  if (by === 'never') return [];
  return kind === 'no-flow' ? simpleNoFlow(unit) : simpleSilent(unit);
}

/** A technician is sent when the seventh day without flow is reported. */
export function simpleNoFlow(unit: ScoredUnit): Alert[] {
  const { zone } = unit.unit;
  return zeroRunsOf(unit).flatMap(({ days, endedOn }) => {
    const seventh = days.find(({ nth }) => nth === ZERO_DAYS);
    if (!seventh) return [];
    // A day is reported when it is over.
    const cleared = endedOn === null ? null : zone.startOf(endedOn + 1);
    return [certain(unit, 'no-flow', 'meter-stalled', zone.startOf(seventh.date + 1), cleared)];
  });
}

/** A unit is told silent when nothing of it has been received for two days; nothing is said of one never heard of. */
export function simpleSilent(unit: ScoredUnit): Alert[] {
  const { seen } = unit;
  const heard = seen?.heard ?? [];
  const end = unit.unit.zone.startOf(unit.to + 1);
  return heard.flatMap((instant, index) => {
    const raised = instant + SILENT_MS;
    const next = heard[index + 1];
    if (raised > end || (next !== undefined && next <= raised)) return [];
    return [certain(unit, 'silent-unit', null, raised, next ?? null)];
  });
}

function certain(
  { unit }: ScoredUnit,
  kind: AlertKind,
  cause: Alert['cause'],
  raised: Instant,
  cleared: Instant | null,
): Alert {
  const step = { severity: 'soon' as const, probability: 1 };
  const raisedAt = formatInstant(raised);
  return {
    ...{ unitId: unit.unitId, kind, cause, ...step, raisedAt },
    clearedAt: cleared === null ? null : formatInstant(cleared),
    history: [{ at: raisedAt, ...step }],
    summary: 'A simple rule.',
    evidence: {},
  };
}
