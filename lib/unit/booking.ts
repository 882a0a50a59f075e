import type { FlowDay, Regeneration } from '../../shared/facts.ts';
import type { Unit } from '../../shared/registry.ts';
import { expectedUse } from '../demand/household.ts';
import { saltUsed } from '../salt/saltUsed.ts';
import { addWasted, type SpentCycle, wastedAt } from '../salt/waste.ts';
import { regenerationGallons } from '../softening/regenerationWater.ts';
import { availableGrains } from './bed.ts';
import { expectedDrawLb } from './brineDraw.ts';
import { believedGallons } from './control.ts';
import { actingCapacityGallons, reserveOf } from './controlCount.ts';
import type { UnitState } from './state.ts';
import { noiseLb, sensorWorks } from './tankLevel.ts';

/** How the cycle stands that a regeneration is about to end; what it draws is not known before it is booked. */
export type CycleSoFar = Omit<SpentCycle, 'drawnShare'> & { drawnShare: number };

/** A sensor that rather sticks than not measures nothing. */
const WORKS = 0.5;

/** @param soFarGallons the part of today's use that is expected to have come before now, since any earlier one today */
export function cycleSoFar(
  unit: Unit,
  state: UnitState,
  { time, trigger, gallonsSince }: Regeneration,
  soFarGallons: number,
): CycleSoFar {
  const { bed, count, compensatedHardnessGpg: hardnessGpg } = state;
  const reserveGallons = reserveOf(count, unit.alternating);
  const control = controlOf(state);
  const available = availableGrains(bed, expectedDrawLb(state.draw, bed.saltDoseLb));
  let usedGrains = bed.usedGrains + soFarGallons * hardnessGpg;
  let countedGallons = gallonsSince;
  if (count.isAssumed || count.imputedGallons !== 0) {
    // Of a cycle that was not reported whole the control knows best.
    countedGallons ??= countedWhenDue(trigger, control, reserveGallons, count.gallons + soFarGallons);
    if (countedGallons !== undefined) usedGrains = countedGallons * hardnessGpg;
    else if (count.isAssumed) usedGrains = available;
  }
  if (countedGallons === undefined) {
    // Of two beds one may be due at any time of the day: all of its use may have come before.
    const today = unit.alternating
      ? bed.shareToCome * expectedUse(state.household, unit.zone.dateAt(time))
      : soFarGallons;
    countedGallons = count.gallons + today;
  }
  return {
    trigger,
    doseLb: bed.saltDoseLb,
    drawnShare: 0,
    capacityGrains: bed.capacityGrains,
    availableGrains: available,
    usedGrains,
    leakedGrains: bed.leakedGrains,
    hardnessGpg,
    countedGallons,
    reserveGallons,
    control,
  };
}

/** What a control had counted that began by its count: enough, and it had not been on the day before. */
function countedWhenDue(
  trigger: Regeneration['trigger'],
  control: CycleSoFar['control'],
  reserveGallons: number,
  guessGallons: number,
): number | undefined {
  if (trigger === 'manual' || trigger === 'override') return undefined;
  if (!control || control.gallons === Number.POSITIVE_INFINITY) return guessGallons;
  const due = Math.max(0, control.gallons - reserveGallons);
  return Math.min(Math.max(guessGallons, due), due + reserveGallons);
}

/** What the control goes by; null where it has lost its settings. */
function controlOf({ count, programmed }: UnitState): CycleSoFar['control'] {
  if (count.settings === 'lost') return null;
  const gallons = actingCapacityGallons(count, believedGallons(programmed));
  return { gallons, hardnessGpg: programmed.hardnessGpg };
}

/** Books a regeneration as it was reported. */
export function bookRegeneration(
  unit: Unit,
  state: UnitState,
  regeneration: Regeneration,
  cycle: CycleSoFar,
) {
  const { month, bed, draw, tank } = state;
  const { saltDoseLb } = bed;
  month.saltDoseLb = saltDoseLb;
  month.regenerations += 1;
  if (regeneration.waterGallons !== undefined) month.regenerationGallons += regeneration.waterGallons;
  else month.inferredRegenerationGallons += regenerationGallons(unit.resinCubicFeet);
  const isRead = sensorWorks(tank) >= WORKS;
  const salt = saltUsed(regeneration, saltDoseLb, { brineShare: draw.brineShare, isRead });
  if (salt.measured) {
    month.measuredSaltLb += salt.lb;
    const noise = noiseLb(tank);
    month.measuredVariance += 2 * (noise * noise);
    // Over doses that were not seen not to be drawn: those count as nothing where no sensor weighs them, too.
    month.measuredDoseLb += salt.byDoseLb;
  } else {
    month.inferredSaltLb += salt.lb;
  }
  // One reading is too noisy to share out what was drawn; nothing that is not booked as used can be wasted.
  cycle.drawnShare = Math.min(salt.byDoseLb, expectedDrawLb(draw, saltDoseLb)) / saltDoseLb;
  if (cycle.drawnShare > 0) month.wasted = addWasted(month.wasted, wastedAt(cycle));
}

/** Keeps what leaked, once it is known that flow did not stop all day: the regeneration that restores it books it. */
export function keepLeaked(state: UnitState, { gallons }: FlowDay) {
  const { bed, draw, compensatedHardnessGpg } = state;
  const { run } = state.memories.flow;
  if (!run) return;
  const grains = run.leak * Math.max(0, gallons - run.usualGallons) * compensatedHardnessGpg;
  const taken = Math.min(bed.usedGrains, availableGrains(bed, expectedDrawLb(draw, bed.saltDoseLb)));
  bed.leakedGrains = Math.min(bed.leakedGrains + grains, taken);
}
