import type { Alert } from '../../shared/alerts.ts';
import { dayOf, faultsOf, type ScoredFault, type ScoredUnit } from './scoredUnit.ts';
import { quantile, shareOf } from './statistics.ts';

/** How well one fault is told. Shares are null where there was nothing to take them of. */
export interface FaultScore {
  readonly fault: string;
  /** Faults that there was time to tell, on units that sense them and on all. */
  readonly sensed: number;
  readonly all: number;
  readonly recall: number | null;
  readonly recallOfAll: number | null;
  /** Days from when it showed to when it was told, over sensed ones. */
  readonly medianDelayDays: number | null;
  readonly p90DelayDays: number | null;
  /** Share of the told ones of which the first alert names a cause that is right. */
  readonly rightCause: number | null;
}

/** How well each fault of a fleet is told. */
export function faultScores(units: readonly ScoredUnit[]): { scores: FaultScore[]; tooShort: number } {
  const told = new Map<string, Told[]>();
  let tooShort = 0;
  for (const unit of units) {
    const found = faultsOf(unit);
    tooShort += found.tooShort;
    for (const fault of found.faults) {
      told.set(fault.name, [...(told.get(fault.name) ?? []), tellingOf(unit, fault)]);
    }
  }
  const scores = [...told].map(([fault, cases]) => scoreOf(fault, cases));
  return { scores: scores.sort((a, b) => (a.fault < b.fault ? -1 : 1)), tooShort };
}

interface Told {
  readonly isSensed: boolean;
  readonly delayDays: number | undefined;
  readonly isRight: boolean;
}

/** A day before it shows is taken for the day: what is reported at midnight belongs to the day before. */
const EARLY_DAYS = 1;
const GRACE_DAYS = 2;

/** The alerts that tell of a fault, the first raised first: raised while it lasted, or open when it began to show. */
export function alertsOf(unit: ScoredUnit, fault: ScoredFault): Alert[] {
  const kinds = new Set(fault.right.map(({ kind }) => kind));
  const begins = fault.truth.detail.dwindlingFrom === undefined ? fault.shownOn - EARLY_DAYS : -Infinity;
  return unit.alerts
    .filter(({ kind }) => kinds.has(kind))
    .filter(({ raisedAt, clearedAt }) => {
      const raised = dayOf(unit, raisedAt);
      if (raised > fault.endsOn + GRACE_DAYS) return false;
      return raised >= begins || clearedAt === null || dayOf(unit, clearedAt) > fault.shownOn;
    })
    .sort((a, b) => (a.raisedAt < b.raisedAt ? -1 : 1));
}

function tellingOf(unit: ScoredUnit, fault: ScoredFault): Told {
  const [first, ...others] = alertsOf(unit, fault);
  if (!first) return { isSensed: fault.isSensed, delayDays: undefined, isRight: false };
  // A stall is told when somebody is sent; that the household is asked is scored apart.
  const isRight = [first, ...others].some((alert) =>
    fault.right.some(({ kind, cause }) => alert.kind === kind && alert.cause === cause),
  );
  return {
    isSensed: fault.isSensed,
    delayDays: Math.max(0, dayOf(unit, first.raisedAt) - fault.shownOn),
    isRight,
  };
}

function scoreOf(fault: string, cases: readonly Told[]): FaultScore {
  const sensed = cases.filter(({ isSensed }) => isSensed);
  const isTold = ({ delayDays }: Told) => delayDays !== undefined;
  const delays = sensed.flatMap(({ delayDays }) => delayDays ?? []);
  return {
    fault,
    sensed: sensed.length,
    all: cases.length,
    recall: shareOf(sensed, isTold),
    recallOfAll: shareOf(cases, isTold),
    medianDelayDays: quantile(delays, 0.5),
    p90DelayDays: quantile(delays, 0.9),
    rightCause: shareOf(sensed.filter(isTold), ({ isRight }) => isRight),
  };
}
