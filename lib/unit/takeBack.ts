import type { Unit } from '../../shared/registry.ts';
import { regenerationGallons } from '../softening/regenerationWater.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { believedGallons } from './control.ts';
import { actingCapacityGallons, reserveOf } from './controlCount.ts';
import type { UnitState } from './state.ts';

/** A cycle of less than this share of a whole one hardly ever is one. */
const SHORT_CYCLE = 0.5;

/**
 * Takes a regeneration back that was assumed on a day without a report, where the one that is reported now shows that it
 * was not: the control has counted more than since then, or, where it does not say, it cannot be due again so soon. Only
 * flow days were lost then, and the regeneration that was due is this one. Where it was assumed in an account that is closed,
 * this one has a regeneration less than none, and both together are right.
 *
 * @param control what the control says that it has counted, and what was counted since the assumed one, US gallons
 */
export function takeBackAssumed(
  unit: Unit,
  state: UnitState,
  control: { saysGallons: number | undefined; sinceGallons: number },
) {
  const { count, month, draw, bed } = state;
  // The first cycle that is known of began by nobody's assumption.
  if (!count.isAssumed || bed.previous === null) return;
  const capacity = actingCapacityGallons(count, believedGallons(state.programmed));
  const due = capacity - reserveOf(count, unit.alternating);
  if (!Number.isFinite(due)) return;
  const { saysGallons, sinceGallons } = control;
  const isShown =
    saysGallons === undefined
      ? sinceGallons < SHORT_CYCLE * due
      : saysGallons - sinceGallons > SHORT_CYCLE * due;
  if (!isShown) return;
  month.regenerationsImputed -= 1;
  month.imputedSaltLb -= expectedDrawLb(draw, bed.saltDoseLb);
  month.inferredRegenerationGallons -= regenerationGallons(unit.resinCubicFeet);
}
