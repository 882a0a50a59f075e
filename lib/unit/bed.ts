import type { LocalDate } from '../../shared/time/localDate.ts';
import {
  bedCapacityGrains,
  capacityGrainsPerCubicFoot,
  MAX_DOSE_LB_PER_CUBIC_FOOT,
} from '../softening/capacity.ts';

/**
 * The ledger of a resin bed in grains, as it truly is: what the last regeneration left it with, and what the treated
 * water has taken since. What the control believes is another ledger (controlCount.ts).
 */
export interface Bed {
  /** Resin, and the salt that a regeneration should bring. */
  resinCubicFeet: number;
  saltDoseLb: number;
  /** What a whole dose gives the bed. */
  capacityGrains: number;
  /** What was left in the bed in service when it was last regenerated. */
  leftBeforeGrains: number;
  /**
   * Two beds that take turns: what was left in the other when its regeneration began, and the salt that the one in
   * service drew at its own, before the last. Null for a single bed.
   */
  turn: { otherLeftGrains: number; drawnLb: number } | null;
  usedGallons: number;
  usedGrains: number;
  /** The part of `usedGrains` that stands for days without a report. */
  imputedGrains: number;
  /** The part of `usedGrains` that ran out of a leak. */
  leakedGrains: number;
  /** The local day on which the bed ran out, while it has not been regenerated. */
  exhaustedOn: LocalDate | null;
  /** Share of the next flow day that comes after the last regeneration: 1 unless that was on the same day. */
  shareToCome: number;
  /** The cycle that the last regeneration ended. */
  previous: EndedCycle | null;
}

/** A cycle that is over. */
export interface EndedCycle {
  usedGrains: number;
  imputedGrains: number;
  /** What the cycle's bed could take. */
  availableGrains: number;
  exhaustedOn: LocalDate | null;
}

/** A copy that shares nothing that is written to. Named one by one: spreading costs twenty times as much. */
export function copyBed(bed: Bed): Bed {
  const { turn, previous } = bed;
  return {
    resinCubicFeet: bed.resinCubicFeet,
    saltDoseLb: bed.saltDoseLb,
    capacityGrains: bed.capacityGrains,
    leftBeforeGrains: bed.leftBeforeGrains,
    turn: turn && { otherLeftGrains: turn.otherLeftGrains, drawnLb: turn.drawnLb },
    usedGallons: bed.usedGallons,
    usedGrains: bed.usedGrains,
    imputedGrains: bed.imputedGrains,
    leakedGrains: bed.leakedGrains,
    exhaustedOn: bed.exhaustedOn,
    shareToCome: bed.shareToCome,
    previous: previous && {
      usedGrains: previous.usedGrains,
      imputedGrains: previous.imputedGrains,
      availableGrains: previous.availableGrains,
      exhaustedOn: previous.exhaustedOn,
    },
  };
}

/** A bed that has just had a whole dose. */
export function freshBed(resinCubicFeet: number, saltDoseLb: number, alternating: boolean): Bed {
  const capacityGrains = capacityOfDose(resinCubicFeet, saltDoseLb);
  return {
    resinCubicFeet,
    saltDoseLb,
    capacityGrains,
    leftBeforeGrains: capacityGrains,
    turn: alternating ? { otherLeftGrains: capacityGrains, drawnLb: saltDoseLb } : null,
    usedGallons: 0,
    usedGrains: 0,
    imputedGrains: 0,
    leakedGrains: 0,
    exhaustedOn: null,
    shareToCome: 1,
    previous: null,
  };
}

/**
 * What the bed in service could take since it was regenerated, grains, when the unit's last regeneration drew
 * `lastDrawnLb` of salt. A short dose restores what it drew, on top of what was left, and never more than a whole dose.
 */
export function availableGrains(bed: Bed, lastDrawnLb: number): number {
  const drawnLb = bed.turn ? bed.turn.drawnLb : lastDrawnLb;
  if (drawnLb >= bed.saltDoseLb) return bed.capacityGrains;
  const restored = drawnLb > 0 ? capacityOfDose(bed.resinCubicFeet, drawnLb) : 0;
  return Math.min(bed.capacityGrains, bed.leftBeforeGrains + restored);
}

/** Charges the bed with a local day's treated water. A part before that day's regeneration goes to the cycle it ended. */
export function treat(
  bed: Bed,
  date: LocalDate,
  day: { gallons: number; hardnessGpg: number; imputed: boolean },
  drawnLb: number,
) {
  const share = bed.shareToCome;
  const grains = day.gallons * day.hardnessGpg;
  if (share < 1 && bed.previous) {
    bed.previous.usedGrains += (1 - share) * grains;
    if (bed.previous.usedGrains >= bed.previous.availableGrains) bed.previous.exhaustedOn ??= date;
    setLeft(bed, Math.max(0, bed.previous.availableGrains - bed.previous.usedGrains));
  }
  bed.usedGallons += share * day.gallons;
  bed.usedGrains += share * grains;
  if (day.imputed) bed.imputedGrains += share * grains;
  bed.shareToCome = 1;
  if (bed.exhaustedOn === null && bed.usedGrains >= availableGrains(bed, drawnLb)) bed.exhaustedOn = date;
}

/**
 * Ends the cycle and begins the next; of two beds the other goes into service.
 *
 * @param drawnLb salt that the regeneration before this one drew
 * @param shareBefore share of this day's use that came before it
 */
export function regenerate(bed: Bed, drawnLb: number, shareBefore: number) {
  const available = availableGrains(bed, drawnLb);
  bed.previous = {
    usedGrains: bed.usedGrains,
    imputedGrains: bed.imputedGrains,
    availableGrains: available,
    exhaustedOn: bed.exhaustedOn,
  };
  if (bed.turn) {
    bed.leftBeforeGrains = bed.turn.otherLeftGrains;
    bed.turn.drawnLb = drawnLb;
  }
  setLeft(bed, Math.max(0, available - bed.usedGrains));
  bed.usedGallons = 0;
  bed.usedGrains = 0;
  bed.imputedGrains = 0;
  bed.leakedGrains = 0;
  bed.exhaustedOn = null;
  bed.shareToCome = 1 - shareBefore;
}

/** What the regenerated bed had left: of two, that is now the other. */
function setLeft(bed: Bed, grains: number) {
  if (bed.turn) bed.turn.otherLeftGrains = grains;
  else bed.leftBeforeGrains = grains;
}

/** Takes over another salt dose. One of nothing, or more than the curve knows, is the record's fault and changes nothing. */
export function setDose(bed: Bed, saltDoseLb: number) {
  if (saltDoseLb <= 0 || saltDoseLb === bed.saltDoseLb) return;
  bed.saltDoseLb = saltDoseLb;
  bed.capacityGrains = capacityOfDose(bed.resinCubicFeet, saltDoseLb);
}

/** Capacity of a dose, with one beyond the curve taken for the most that the curve knows. */
function capacityOfDose(resinCubicFeet: number, saltDoseLb: number): number {
  if (saltDoseLb / resinCubicFeet > MAX_DOSE_LB_PER_CUBIC_FOOT) {
    return resinCubicFeet * capacityGrainsPerCubicFoot(MAX_DOSE_LB_PER_CUBIC_FOOT);
  }
  return bedCapacityGrains({ resinCubicFeet, saltDoseLb });
}
