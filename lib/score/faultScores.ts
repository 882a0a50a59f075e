import * as z from 'zod';
import type { Alert } from '../../shared/alerts.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { byRaising, dayOf, type ScoredFault, type ScoredUnit } from './scoredUnit.ts';
import { quantile, shareOf } from './statistics.ts';

const share = z.number().min(0).max(1).nullable();
const days = z.number().min(0).nullable();

/** How well faults of one sort are told. Shares are null where there was nothing to take them of. */
export const tellingScoreSchema = z.object({
  sensed: z.int().min(0).describe('Faults that there was time to tell, on units that sense them'),
  all: z.int().min(0).describe('The same on all units'),
  recall: share.describe(
    'Share of the sensed ones that were told, by their kind or one that follows from it',
  ),
  recallOfAll: share.describe('The same of those on all units'),
  recallByOwnKind: share.describe('Share of the sensed ones that were told by an alert of their own kind'),
  medianDelayDays: days.describe('Days from the one on which it showed to the telling, over sensed ones'),
  p90DelayDays: days.describe('The same, which nine in ten do not exceed'),
  medianDelayRegenerations: days.describe(
    'Regenerations without salt up to the telling, its own included; null but for no-salt-draw',
  ),
  p90DelayRegenerations: days.describe('The same, which nine in ten do not exceed'),
  rightCause: share.describe('Share of the told ones of which any alert names a cause that is right'),
  rightCauseFirst: share.describe('Share of the told ones of which the first alert does'),
});

export const faultScoreSchema = tellingScoreSchema.extend({
  fault: z.string().describe('Name of the fault, with the variant where it has several'),
});

export type FaultScore = z.infer<typeof faultScoreSchema>;

/** What became of one fault. */
export interface Telling {
  readonly fault: ScoredFault;
  /** Undefined where nobody told of it. */
  readonly delayDays: number | undefined;
  readonly delayRegenerations: number | undefined;
  readonly isOwnKind: boolean;
  readonly isRight: boolean;
  readonly isRightFirst: boolean;
}

/** A fault that creeps in may be told this many days before anybody could be sure that it has begun. */
export const CREEPING_DAYS = 3;
/** What a fault has done is reported on the day after, or on the one after that. */
const GRACE_DAYS = 2;

/**
 * The alerts that tell of a fault, the first raised first: of its kind, or of one listed in its truth under
 * `detail.also`, and raised from the day on which it showed (some days before a meter began to dwindle) to two days
 * after it was mended, or raised earlier and open when it began to show.
 */
export function alertsOf(unit: ScoredUnit, fault: ScoredFault): Alert[] {
  const kinds = new Set(fault.right.map(({ kind }) => kind));
  const from = beginsOn(fault);
  return unit.alerts
    .filter(({ kind, raisedAt, clearedAt }) => {
      if (!kinds.has(kind)) return false;
      const raised = dayOf(unit, raisedAt);
      if (raised > fault.endsOn + GRACE_DAYS) return false;
      return raised >= from || clearedAt === null || dayOf(unit, clearedAt) > fault.shownOn;
    })
    .sort(byRaising);
}

function beginsOn({ truth, shownOn }: ScoredFault): LocalDate {
  const { dwindlingFrom } = truth.detail;
  const dwindles = typeof dwindlingFrom === 'string' ? parseLocalDate(dwindlingFrom) : undefined;
  return dwindles === undefined ? shownOn : Math.min(shownOn, dwindles - CREEPING_DAYS);
}

/** What became of each of a unit's faults. An alert tells of one fault only: the first to end that it may tell of. */
export function tellingsOf(unit: ScoredUnit, faults: readonly ScoredFault[]): Telling[] {
  const taken = new Set<Alert>();
  return [...faults]
    .sort((a, b) => a.endsOn - b.endsOn || a.shownOn - b.shownOn)
    .map((fault) => {
      const alerts = alertsOf(unit, fault).filter((alert) => !taken.has(alert));
      const [first] = alerts;
      if (first) taken.add(first);
      return tellingOf(unit, fault, alerts);
    });
}

function tellingOf(unit: ScoredUnit, fault: ScoredFault, alerts: readonly Alert[]): Telling {
  const [first] = alerts;
  const isRight = ({ kind, cause }: Alert) =>
    fault.right.some((each) => each.kind === kind && each.cause === cause);
  return {
    fault,
    delayDays: first && Math.max(0, dayOf(unit, first.raisedAt) - fault.shownOn),
    delayRegenerations:
      first && fault.truth.kind === 'no-salt-draw' ? shortsUpTo(unit, fault, first) : undefined,
    isOwnKind: alerts.some(({ kind }) => kind === fault.truth.kind),
    isRight: alerts.some(isRight),
    isRightFirst: first !== undefined && isRight(first),
  };
}

/** Regenerations without salt of a fault up to an alert. */
function shortsUpTo(unit: ScoredUnit, { shownOn, endsOn }: ScoredFault, { raisedAt }: Alert): number {
  return unit.truth.filter(({ what, from, detail }) => {
    const date = parseLocalDate(from) ?? Infinity;
    const isOfFault = what === 'regeneration-without-salt' && date >= shownOn && date <= endsOn;
    return isOfFault && Date.parse(String(detail.at)) <= Date.parse(raisedAt);
  }).length;
}

/** How well each fault is told, by name. */
export function faultScores(tellings: readonly Telling[]): FaultScore[] {
  const names = [...new Set(tellings.map(({ fault }) => fault.name))].sort();
  return names.map((name) => ({
    fault: name,
    ...tellingScore(tellings.filter(({ fault }) => fault.name === name)),
  }));
}

/** How well some faults are told. */
export function tellingScore(tellings: readonly Telling[]): z.infer<typeof tellingScoreSchema> {
  const sensed = tellings.filter(({ fault }) => fault.isSensed);
  const isTold = ({ delayDays }: Telling) => delayDays !== undefined;
  const told = sensed.filter(isTold);
  const delays = told.flatMap(({ delayDays }) => delayDays ?? []);
  const regenerations = told.flatMap(({ delayRegenerations }) => delayRegenerations ?? []);
  return {
    sensed: sensed.length,
    all: tellings.length,
    recall: shareOf(sensed, isTold),
    recallOfAll: shareOf(tellings, isTold),
    recallByOwnKind: shareOf(sensed, ({ isOwnKind }) => isOwnKind),
    medianDelayDays: quantile(delays, 0.5),
    p90DelayDays: quantile(delays, 0.9),
    medianDelayRegenerations: quantile(regenerations, 0.5),
    p90DelayRegenerations: quantile(regenerations, 0.9),
    rightCause: shareOf(told, ({ isRight }) => isRight),
    rightCauseFirst: shareOf(told, ({ isRightFirst }) => isRightFirst),
  };
}
