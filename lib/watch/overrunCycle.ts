import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { availableGrains } from '../unit/bed.ts';
import { expectedDrawLb, withoutSaltProbability } from '../unit/brineDraw.ts';
import type { UnitState } from '../unit/state.ts';
import { type DueJudgement, judgeCycleBefore, judgeDue } from './judgeDue.ts';
import type { OverrunRules } from './rules/overrun.ts';

/** A cycle that may have run over. */
export interface OverrunCycle {
  /** Whether it lasts; otherwise it is the one before. */
  readonly lasting: boolean;
  readonly probability: number;
  readonly usedGrains: number;
  readonly availableGrains: number;
  readonly exhaustedOn: LocalDate | null;
  /** Probability that its regeneration brought no salt. */
  readonly withoutSalt: number;
  /** What may be behind the mornings on which it was due and which it let pass; null if none was. */
  readonly judged: DueJudgement | null;
  /** Probability that it had run over before it was due. */
  readonly beforeDue: number;
  /**
   * Whether the beds take turns and it was never due: such a pair regenerates at once, so by its own count nothing ran
   * over, unless it is set to more than the bed gives or brings no salt.
   */
  readonly tookTurns: boolean;
  /** Whether it was not due though the bed had been empty for a morning: it was set to more than the bed gives. */
  readonly wasNotDue: boolean;
}

/** The cycle that lasts. */
export function lastingCycle(unit: Unit, state: UnitState, rules: OverrunRules): OverrunCycle {
  const { bed, count, draw, inService, lastDate } = state;
  const { usedGrains, imputedGrains, exhaustedOn } = bed;
  const available = availableGrains(bed, expectedDrawLb(draw, bed.saltDoseLb));
  const withoutSalt = withoutSaltProbability(draw);
  // Whether the dose was drawn is not sure: with it the bed had more.
  const guessed = Math.hypot(
    rules.imputedSpread * imputedGrains,
    count.splitGallons * state.compensatedHardnessGpg,
  );
  const short = available < bed.capacityGrains ? withoutSalt : 0;
  const judged = count.missedMornings > 0 && inService ? judgeDue(unit, state, rules) : null;
  const sinceDue = judged ? lastOf(count.lastDays, count.missedMornings) : 0;
  const wholly = eitherProbability(short, usedGrains, available, bed.capacityGrains, guessed, rules);
  const usedBefore = usedGrains - sinceDue * state.compensatedHardnessGpg;
  const beforeDue = judged
    ? eitherProbability(short, usedBefore, available, bed.capacityGrains, guessed, rules)
    : wholly;
  return {
    lasting: true,
    // Had it regenerated without a report, only what came before would count.
    probability: judged ? wholly - judged.unreported * (wholly - beforeDue) : wholly,
    usedGrains,
    availableGrains: available,
    exhaustedOn,
    withoutSalt,
    judged,
    beforeDue,
    tookTurns: unit.alternating && inService && !judged,
    wasNotDue:
      inService &&
      count.missedMornings === 0 &&
      exhaustedOn !== null &&
      lastDate !== null &&
      lastDate > exhaustedOn,
  };
}

/** The cycle before, or null where none is known. */
export function cycleBefore(unit: Unit, state: UnitState, rules: OverrunRules): OverrunCycle | null {
  const { bed, count, regeneratedOn } = state;
  if (!bed.previous) return null;
  const { usedGrains, availableGrains: available, imputedGrains, exhaustedOn } = bed.previous;
  const judged = count.missedBefore > 0 ? judgeCycleBefore(unit, state, rules) : null;
  const dueOn = regeneratedOn === null ? null : regeneratedOn - count.missedBefore;
  const guessed = Math.hypot(
    rules.imputedSpread * imputedGrains,
    count.splitBeforeGallons * state.compensatedHardnessGpg,
  );
  const short = available < bed.capacityGrains ? SHORT_DOSE : 0;
  const wholly = eitherProbability(short, usedGrains, available, bed.capacityGrains, guessed, rules);
  return {
    lasting: false,
    probability: wholly * (1 - (judged?.unreported ?? 0)),
    usedGrains,
    availableGrains: available,
    exhaustedOn,
    withoutSalt: short,
    judged,
    tookTurns: unit.alternating && count.endedByItself && !judged,
    beforeDue: exhaustedOn !== null && dueOn !== null && exhaustedOn < dueOn ? 1 : 0,
    wasNotDue:
      count.missedBefore === 0 &&
      count.endedByItself &&
      exhaustedOn !== null &&
      regeneratedOn !== null &&
      regeneratedOn > exhaustedOn + 1,
  };
}

/** A cycle that is taken for one that began with a short dose, is one with about this probability. */
const SHORT_DOSE = 0.9;

/** Probability that `used`, of which `guessed` is the standard deviation, is more than a capacity of about `available`. */
function overProbability(used: number, available: number, guessed: number, rules: OverrunRules): number {
  if (used < 0.8 * available) return 0;
  const spread = Math.hypot(rules.capacitySpread * available, guessed);
  return spread > 0 ? normalCdf(used - available, 0, spread) : 1;
}

/** The same of a cycle that with probability `short` began with an `available` short of a whole dose. */
function eitherProbability(
  short: number,
  used: number,
  available: number,
  whole: number,
  guessed: number,
  rules: OverrunRules,
): number {
  const asWhole = overProbability(used, whole, guessed, rules);
  return short === 0
    ? asWhole
    : short * overProbability(used, available, guessed, rules) + (1 - short) * asWhole;
}

/** Sum of the last so many. */
function lastOf(values: readonly number[], count: number): number {
  let sum = 0;
  for (let index = Math.max(0, values.length - count); index < values.length; index++)
    sum += values[index] ?? 0;
  return sum;
}
