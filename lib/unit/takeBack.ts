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
 * flow days were lost then, and the regeneration that was due is this one. What was assumed in a month that is closed stays.
 *
 * @param control what the control says that it has counted, and what was counted since the assumed one, US gallons
 */
export function takeBackAssumed(
  unit: Unit,
  state: UnitState,
  control: { saysGallons: number | undefined; sinceGallons: number },
) {
  const { count, month, draw, bed } = state;
  if (!count.isAssumed || month.regenerationsImputed < 1) return;
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
  month.imputedSaltLb = Math.max(0, month.imputedSaltLb - expectedDrawLb(draw, bed.saltDoseLb));
  const water = month.inferredRegenerationGallons - regenerationGallons(unit.resinCubicFeet);
  month.inferredRegenerationGallons = Math.max(0, water);
}
