import { type FaultScore, faultScores } from './faultScores.ts';
import { isHealthy, type KindScore, kindScores, unitYears } from './kindScores.ts';
import { type LoadScore, loadScore } from './loadScore.ts';
import type { ScoredUnit } from './scoredUnit.ts';
import { type StallScore, stallScore } from './stallScore.ts';

/** How well a fleet is watched, against the truth about it. */
export interface Score {
  readonly units: number;
  readonly healthyUnits: number;
  readonly unitYears: number;
  readonly faults: readonly FaultScore[];
  /** Faults that ended, or the watch did, before there was time to tell them. */
  readonly tooShort: number;
  readonly kinds: readonly KindScore[];
  /** False alarms of all kinds on units without any fault; of `no-flow` only those that sent somebody. */
  readonly falseAHealthyUnitYear: number;
  /** Share of the told faults of which a right cause is named. */
  readonly rightCause: number | null;
  readonly stall: StallScore;
  readonly load: LoadScore;
}

/** Scores alerts against the truth. The order of units and alerts does not matter. */
export function scoreFleet(units: readonly ScoredUnit[]): Score {
  const { scores, tooShort } = faultScores(units);
  const kinds = kindScores(units);
  const told = scores.map(({ sensed, recall, rightCause }) => {
    const count = Math.round(sensed * (recall ?? 0));
    return { count, right: count * (rightCause ?? 0) };
  });
  const toldCount = told.reduce((sum, { count }) => sum + count, 0);
  return {
    units: units.length,
    healthyUnits: units.filter(isHealthy).length,
    unitYears: unitYears(units),
    faults: scores,
    tooShort,
    kinds,
    // A question to the household is scored for itself, as needless questions.
    falseAHealthyUnitYear:
      kinds
        .filter(({ kind }) => kind !== 'no-flow')
        .reduce((sum, each) => sum + each.falseAHealthyUnitYear, 0) +
      stallScore(units.filter(isHealthy)).falseTripsAUnitYear,
    rightCause: toldCount === 0 ? null : told.reduce((sum, { right }) => sum + right, 0) / toldCount,
    stall: stallScore(units),
    load: loadScore(units),
  };
}
