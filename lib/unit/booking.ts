import type { FlowDay, Regeneration } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import { saltUsed } from '../salt/saltUsed.ts';
import { addWasted, leakedLb, type SpentCycle, wastedAt } from '../salt/waste.ts';
import { regenerationGallons } from '../softening/regenerationWater.ts';
import { availableGrains } from './bed.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { reserveOf } from './controlCount.ts';
import type { UnitState } from './state.ts';
import { noiseLb, sensorWorks } from './tankLevel.ts';

/** How the cycle stands that a regeneration is about to end. */
export type CycleSoFar = Omit<SpentCycle, 'trigger' | 'saltLb'>;

/** A sensor that rather sticks than not measures nothing. */
const WORKS = 0.5;

/** @param counted what the control has counted, and the part of today's use that came before now, US gallons */
export function cycleSoFar(
  unit: Unit,
  state: UnitState,
  counted: { countedGallons: number; soFarGallons: number },
): CycleSoFar {
  const { bed, count, compensatedHardnessGpg: hardnessGpg } = state;
  return {
    capacityGrains: bed.capacityGrains,
    availableGrains: availableGrains(bed, expectedDrawLb(state.draw, bed.saltDoseLb)),
    usedGrains: bed.usedGrains + counted.soFarGallons * hardnessGpg,
    hardnessGpg,
    countedGallons: counted.countedGallons,
    reserveGallons: reserveOf(count, unit.alternating),
    programmed: count.settings === 'lost' ? null : state.programmed,
  };
}

/** Books a regeneration as it was reported. */
export function bookRegeneration(
  unit: Unit,
  state: UnitState,
  { trigger, ...regeneration }: Regeneration,
  cycle: CycleSoFar,
) {
  const { month, bed, draw, tank } = state;
  month.regenerations += 1;
  if (regeneration.waterGallons !== undefined) month.regenerationGallons += regeneration.waterGallons;
  else month.inferredRegenerationGallons += regenerationGallons(unit.resinCubicFeet);
  const isRead = sensorWorks(tank) >= WORKS;
  const salt = saltUsed(regeneration, bed.saltDoseLb, { brineShare: draw.brineShare, isRead });
  if (salt.measured) {
    month.measuredSaltLb += salt.lb;
    month.measuredVariance += 2 * noiseLb(tank) ** 2;
    month.measuredDoseLb += bed.saltDoseLb;
  } else {
    month.inferredSaltLb += salt.lb;
  }
  const saltLb = Math.min(bed.saltDoseLb, expectedDrawLb(draw, bed.saltDoseLb));
  if (saltLb > 0) month.wasted = addWasted(month.wasted, wastedAt({ ...cycle, trigger, saltLb }));
}

/** Books what a leak cost that ran all day, once it is known that one did. */
export function bookLeak(state: UnitState, { gallons }: FlowDay) {
  const { month, bed, compensatedHardnessGpg } = state;
  const { run } = state.memories.flow;
  if (!run) return;
  const grains = run.leak * Math.max(0, gallons - run.usualGallons) * compensatedHardnessGpg;
  if (grains > 0) month.wasted = addWasted(month.wasted, { leak: leakedLb(grains, bed) });
}
