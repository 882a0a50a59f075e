import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { believedGallons } from '../unit/control.ts';
import { reserveOf } from '../unit/controlCount.ts';
import { controlCapacityGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import type { DueRules } from './rules/due.ts';
import { saltRatio } from './saltSinceDue.ts';

/** What may be behind a control that was due and is not known to have regenerated; the probabilities sum to 1. */
export interface DueJudgement {
  /** It does not regenerate by itself. */
  readonly failed: number;
  /** It regenerates later than is known: it is set to more. */
  readonly setOtherwise: number;
  /** It is not due by its own count, which is a little behind. */
  readonly notDue: number;
  /** It has regenerated, and the report has not come. */
  readonly unreported: number;
}

const DAYS_A_YEAR = 365;
/** Where no regeneration is on record: about a cycle. */
const USUAL_CYCLE_DAYS = 7;
/** Each of two cycles ends anywhere within a day, of about a fifth of the bed. */
const TWICE_SPREAD = 0.2;
/** By the next time that it is due, an unreported regeneration is long past. */
const SECOND_DUE = 2;

/** Judges a control that was due on at least one morning since its last regeneration. */
export function judgeDue(unit: Unit, state: UnitState, rules: DueRules): DueJudgement {
  const { count } = state;
  const capacity = actingGallons(state);
  return weigh(state, rules, {
    over: count.letPassGallons / capacity,
    imputed: count.imputedGallons / capacity,
    split: count.splitGallons / capacity,
    gapReach: count.gapReachGallons / capacity,
    inGap: state.regeneratedOn === null && count.gapReachGallons > 0 ? rules.firstCycleInGap : 0,
    days: daysSince(state, state.regeneratedOn) ?? USUAL_CYCLE_DAYS,
    daysDue: count.missedMornings,
    reported: saltRatio(unit, state, rules),
    back: 1,
  });
}

/** Judges the cycle before, if the control was due on at least one morning of it and let it pass. */
export function judgeCycleBefore(unit: Unit, state: UnitState, rules: DueRules): DueJudgement {
  const { count, bed } = state;
  const capacity = actingGallons(state);
  return weigh(state, rules, {
    over: count.letPassBeforeGallons / capacity,
    imputed: (bed.previous?.imputedGrains ?? 0) / state.compensatedHardnessGpg / capacity,
    split: count.splitBeforeGallons / capacity,
    gapReach: count.gapReachBeforeGallons / capacity,
    inGap: 0,
    days: USUAL_CYCLE_DAYS + count.missedBefore,
    daysDue: count.missedBefore + (daysSince(state, state.regeneratedOn) ?? 0),
    // One that came back by its count was due a second time, if its regeneration before has gone unreported.
    reported: count.endedByItself ? twiceDue(unit, state) : 1,
    // A hand helps what has failed; by itself it hardly comes back.
    back: count.endedByItself ? rules.comesBack : 1,
  });
}

/** A cycle in which a control let mornings pass on which it was due. */
interface DueCycle {
  /** What it let pass over what it goes by, and the part of that which stands for days without a report. */
  readonly over: number;
  readonly imputed: number;
  /** Standard deviation of what it counted on the day on which it began. */
  readonly split: number;
  /** How near its turn it was on a day without a report, as a share of what it goes by. */
  readonly gapReach: number;
  /** Probability of a regeneration on such a day, where nobody knows when the cycle began. */
  readonly inGap: number;
  /** How long the cycle took, and how long ago it was first due. */
  readonly days: number;
  readonly daysDue: number;
  /** How much likelier what else is seen is of a regeneration that was not reported than of none. */
  readonly reported: number;
  /** Probability that what had failed would be back by now. */
  readonly back: number;
}

function weigh(state: UnitState, rules: DueRules, cycle: DueCycle): DueJudgement {
  const { over, imputed, daysDue } = cycle;
  const years = Math.max(cycle.days, daysDue) / DAYS_A_YEAR;
  const spread = Math.hypot(rules.countSpread, cycle.split, rules.imputedSpread * imputed);
  const failed = rules.failuresPerUnitYear * years * cycle.back;
  const notDue = normalCdf(1 - over, 0, spread);
  const setOtherwise =
    otherwisePrior(state, years, rules) * (1 - normalCdf(Math.log(over), 0, rules.setSpread));
  const late = rules.reportedLate * rules.lateGoesOn ** (daysDue - 1);
  const lost = rules.neverReported * normalCdf(SECOND_DUE - over, 0, 2 * spread);
  const unreported = (late + lost) * cycle.reported + lostInGap(cycle, spread);
  const sum = failed + setOtherwise + notDue + unreported;
  return {
    failed: failed / sum,
    setOtherwise: setOtherwise / sum,
    notDue: notDue / sum,
    unreported: unreported / sum,
  };
}

/**
 * Probability that it regenerated on a day of which nothing came in: it may have been its turn by then, a little before
 * it was by the count that is kept, and it has not been a second time since.
 */
function lostInGap({ gapReach, inGap, over }: DueCycle, spread: number): number {
  if (gapReach === 0) return 0;
  const wasDue = Math.max(inGap, normalCdf(gapReach - 1, 0, spread));
  return wasDue * normalCdf(1 - (over - gapReach), 0, 2 * spread);
}

/** How well what was used fits two cycles, each of which left about a reserve. */
function twiceDue(unit: Unit, state: UnitState): number {
  const { count, bed } = state;
  const capacity = actingGallons(state);
  const used = (bed.previous?.usedGrains ?? 0) / state.compensatedHardnessGpg / capacity;
  const z = (used - 2 + reserveOf(count, unit.alternating) / capacity) / TWICE_SPREAD;
  return Math.exp(-0.5 * z * z);
}

/**
 * What the control goes by: where its cycles say less than is programmed, something else may have started them. One that
 * is set to nothing is due for ever.
 */
function actingGallons(state: UnitState): number {
  return Math.max(1, believedGallons(state.programmed), controlCapacityGallons(state));
}

function daysSince({ lastDate }: UnitState, date: LocalDate | null): number | null {
  return date === null || lastDate === null ? null : lastDate - date;
}

/** Probability that the control has come to be set to another capacity, unknown to anybody. */
function otherwisePrior({ count }: UnitState, years: number, rules: DueRules): number {
  const since = rules.setOtherwisePerUnitYear * years;
  switch (count.settings) {
    case 'lost':
      return rules.setAfterLoss;
    case 'reported':
      return rules.reportedChange * since;
    case 'on-record':
      return since;
  }
}
