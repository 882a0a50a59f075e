import { notNegative, positive, SofteningError } from './errors.ts';
import { checkedEfficiency } from './stoichiometry.ts';

/** A bed on its water: capacity and compensated hardness. */
export interface BedOnWater {
  readonly capacityGrains: number;
  readonly hardnessGpg: number;
}

/** Gallons a bed softens from fresh to exhausted. Throws `capacity-` or `hardness-out-of-range` unless both are above 0. */
export function gallonsPerCycle({ capacityGrains, hardnessGpg }: BedOnWater): number {
  const capacity = positive(capacityGrains, 'capacity, grains,', 'capacity-out-of-range');
  return capacity / positive(hardnessGpg, 'hardness, gpg,', 'hardness-out-of-range');
}

/** A bed at work: the steady use of its household, and the gallons it keeps back for the day it waits for its hour. */
export interface BedAtWork extends BedOnWater {
  readonly gallonsPerDay: number;
  readonly reserveGallons: number;
}

/**
 * Days from one regeneration to the next at steady use, with the reserve never drawn. Throws as `gallonsPerCycle`,
 * and `volume-out-of-range` unless use is above 0 and the reserve at least 0 and less than the whole bed.
 */
export function daysBetweenRegenerations(bed: BedAtWork): number {
  const gallons =
    gallonsPerCycle(bed) - notNegative(bed.reserveGallons, 'reserve, gal,', 'volume-out-of-range');
  if (gallons > 0) return gallons / positive(bed.gallonsPerDay, 'use, gal a day,', 'volume-out-of-range');
  throw new SofteningError(
    'volume-out-of-range',
    bed.reserveGallons,
    `a reserve of ${bed.reserveGallons} gal leaves nothing of the bed to use. Lower the reserve or raise the dose.`,
  );
}

/** A household's water and the efficiency it is softened at. */
export interface SoftenedUse {
  readonly gallonsPerDay: number;
  readonly hardnessGpg: number;
  readonly grainsPerLb: number;
}

/**
 * Salt that a household takes, lb of NaCl a day, at an efficiency in grains per lb. Throws `volume-` or
 * `hardness-out-of-range` below 0, `efficiency-out-of-range` unless above 0, `efficiency-impossible` above the ceiling.
 */
export function saltLbPerDay({ gallonsPerDay, hardnessGpg, grainsPerLb }: SoftenedUse): number {
  const gallons = notNegative(gallonsPerDay, 'use, gal a day,', 'volume-out-of-range');
  const grains = gallons * notNegative(hardnessGpg, 'hardness, gpg,', 'hardness-out-of-range');
  const efficiency = positive(grainsPerLb, 'efficiency, grains per lb,', 'efficiency-out-of-range');
  return grains / checkedEfficiency(efficiency, 1);
}
