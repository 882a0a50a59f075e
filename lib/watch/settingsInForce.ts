import type { Unit } from '../../shared/registry.ts';
import { believedGallons } from '../unit/control.ts';
import { type LearningRules, type LearntCapacity, learntCapacity } from '../unit/learntCapacity.ts';
import { SET_TO } from '../unit/memory/cycleBelief.ts';
import type { UnitState } from '../unit/state.ts';

/** What a control may go by instead of what is known to be programmed. */
export interface OtherCapacity {
  readonly probability: number;
  /** US gallons: over the one and at most the other. */
  readonly overGallons: number;
  readonly upToGallons: number;
}

/** How far each of {@link SET_TO} reaches to both sides, as a share of what is known. */
const HALF_STEP = 0.05;
/** Less probable than this is as good as never. */
const WORTH = 0.02;

const NONE: readonly OtherCapacity[] = [];

/**
 * What the cycles of a unit say that its control goes by, where that is not what is known. Of cycles that ended early
 * two models are heard, and the surer one is believed: one weighs the days between them against the gallons
 * (lib/unit/memory/cycleBelief.ts), and passes over long ones; the other weighs the gallons alone
 * (lib/unit/learntCapacity.ts), and is sure of long ones only. The probabilities sum to 1 at the most.
 *
 * @param rules with `visitMends`, the probability that a technician who came since has put it right
 */
export function otherCapacities(
  unit: Unit,
  state: UnitState,
  rules: LearningRules & { readonly visitMends: number },
): readonly OtherCapacity[] {
  const known = believedGallons(state.programmed);
  if (!(known > 0 && Number.isFinite(known))) return NONE;
  const learnt = learntCapacity(state.count, known, rules);
  const lower = lowerCapacities(state, known);
  if (!learnt) return lower;
  const isLower = learnt.upToGallons < known;
  const probability =
    learnt.probability *
    (1 - mended(unit, state, learnt, rules.visitMends)) *
    (isLower ? 1 - startedOtherwise(state) : 1);
  const isSurer = probability >= Math.max(WORTH, sumOf(lower));
  const { overGallons, upToGallons } = learnt;
  return isSurer ? [{ probability, overGallons, upToGallons }] : lower;
}

function lowerCapacities({ memories }: UnitState, known: number): readonly OtherCapacity[] {
  const { set } = memories.cycles.belief;
  let some: OtherCapacity[] | undefined;
  for (let index = 0; index < SET_TO.length; index++) {
    const probability = set[index] ?? 0;
    if (probability < WORTH) continue;
    const share = SET_TO[index] ?? 1;
    some ??= [];
    some.push({
      probability,
      overGallons: (share - HALF_STEP) * known,
      upToGallons: (share + HALF_STEP) * known,
    });
  }
  return some ?? NONE;
}

/** Probability that something else than a count starts regenerations early. */
function startedOtherwise({ memories }: UnitState): number {
  const { repeated, timed, manual } = memories.cycles.belief;
  return Math.min(
    1,
    timed.reduce((sum, each) => sum + each, repeated + manual),
  );
}

/** Probability that one of them is in force. */
export function sumOf(others: readonly OtherCapacity[]): number {
  return others.reduce((sum, { probability }) => sum + probability, 0);
}

/** Probability that a technician came after the last cycle that contradicts, and put it right. */
function mended(unit: Unit, { lastVisit }: UnitState, learnt: LearntCapacity, visitMends: number): number {
  return lastVisit !== null && unit.zone.dateAt(lastVisit) >= learnt.lastOn ? visitMends : 0;
}
