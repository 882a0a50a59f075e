import type { Regeneration } from '../../../shared/facts.ts';
import { fillGallonsForDose } from '../../softening/brine.ts';
import { regenerationGallons } from '../../softening/regenerationWater.ts';

/** Water of one regeneration, US gallons, by salt dose, and whether that goes back to what the unit reported. */
export interface RegenerationWater {
  readonly isReported: boolean;
  gallonsAt(saltDoseLb: number): number;
}

/**
 * What a regeneration takes: the mean of those reported, or the published figure. The steps of a regeneration are timed
 * whatever the dose (common practice, no source), but for the fill that dissolves the salt, which goes with it.
 *
 * @param todayLb the dose at which they were reported
 */
export function regenerationWater(
  regenerations: readonly Regeneration[],
  todayLb: number,
  resinCubicFeet: number,
): RegenerationWater {
  const reported = regenerations.flatMap(({ waterGallons }) => (waterGallons ? [waterGallons] : []));
  const isReported = reported.length > 0;
  const today = isReported
    ? reported.reduce((sum, gallons) => sum + gallons, 0) / reported.length
    : regenerationGallons(resinCubicFeet);
  const rest = Math.max(0, today - fillGallonsForDose(todayLb));
  return { isReported, gallonsAt: (saltDoseLb) => rest + fillGallonsForDose(saltDoseLb) };
}
