import type { Regeneration } from '../../shared/facts.ts';
import type { Programmed } from '../../shared/registry.ts';
import { believedGallons } from '../unit/control.ts';
import { CAPACITY_TOLERANCE } from '../unit/controlCount.ts';

/**
 * What salt is spent on beside the hardness of the water that a household draws. Each pound is booked under one of them
 * at the most:
 *
 * - `leak`: hardness of water that ran on days on which flow never stopped, beyond what was expected of the household
 * - `manual`, `calendar-limit`: capacity that was left, beyond the reserve, when somebody or a limit of days started it
 * - `repeated`: the same where the control started before its own count was due
 * - `capacity-too-low`, `hardness-too-high`: capacity of the bed that what is programmed does not let it use
 * - `reserve`: capacity that the control holds back by its rule, and what is left of the day on which it regenerates
 * - `dose`: salt of a whole dose beyond what the same hardness would take at 3,350 grains per lb
 */
export const WASTE_CAUSES = [
  'leak',
  'manual',
  'calendar-limit',
  'repeated',
  'capacity-too-low',
  'hardness-too-high',
  'reserve',
  'dose',
] as const;

export type WasteCause = (typeof WASTE_CAUSES)[number];

/** Salt by what it was spent on in vain, lb; what is not named is 0. */
export type Wasted = { -readonly [cause in WasteCause]?: number };

/** Below it a dose spends more than a softener that is efficiency rated may: NSF/ANSI 44 (see softening/efficiency.ts). */
export const RATED_GRAINS_PER_LB = 3_350;

/** A cycle that a regeneration ends, and what regenerates it. */
export interface SpentCycle {
  readonly trigger: Regeneration['trigger'];
  /** Salt of the regeneration, lb, above 0. */
  readonly saltLb: number;
  /** What a whole dose gives the bed, what the bed could take in this cycle, and what it took, grains. */
  readonly capacityGrains: number;
  readonly availableGrains: number;
  readonly usedGrains: number;
  /** What each gallon takes from the bed, gpg. */
  readonly hardnessGpg: number;
  /** What the control counted, and what it held back, US gallons. */
  readonly countedGallons: number;
  readonly reserveGallons: number;
  /** What is programmed; null where that is not known. */
  readonly programmed: Programmed | null;
}

/** The salt that a regeneration spent on what the bed still had, and on a dose too rich. */
export function wastedAt(cycle: SpentCycle): Wasted {
  const { saltLb, capacityGrains } = cycle;
  const left = Math.min(capacityGrains, Math.max(0, cycle.availableGrains - cycle.usedGrains));
  const lbPerGrain = saltLb / capacityGrains;
  const restored = capacityGrains - left;
  const wasted: Wasted = {};
  for (const [cause, grains] of leftBy(cycle, left)) if (grains > 0) wasted[cause] = grains * lbPerGrain;
  const rich = restored * (lbPerGrain - 1 / RATED_GRAINS_PER_LB);
  if (rich > 0) wasted.dose = rich;
  return wasted;
}

/** Salt that the hardness of leaked water costs, lb; not what its dose is too rich by, which is booked with the dose. */
export function leakedLb(grains: number, bed: { saltDoseLb: number; capacityGrains: number }): number {
  return grains * Math.min(bed.saltDoseLb / bed.capacityGrains, 1 / RATED_GRAINS_PER_LB);
}

/** Adds what was wasted to what is booked. */
export function addWasted(booked: Wasted, wasted: Wasted): Wasted {
  const sum: Wasted = { ...booked };
  for (const cause of WASTE_CAUSES) {
    const more = wasted[cause];
    if (more !== undefined) sum[cause] = (sum[cause] ?? 0) + more;
  }
  return sum;
}

/** Why that much was left: what settings keep from use first, then the reserve, then whoever came before it was due. */
function leftBy(cycle: SpentCycle, left: number): [WasteCause, number][] {
  const { trigger, hardnessGpg, reserveGallons, countedGallons, programmed } = cycle;
  const byHand = trigger === 'manual' || trigger === 'override';
  const settings = byHand || !programmed ? 0 : Math.min(left, keptByGrains(cycle, programmed));
  const due = (programmed ? believedGallons(programmed) : Number.NaN) - reserveGallons;
  const early = byHand
    ? Math.max(0, left - reserveGallons * hardnessGpg)
    : due - countedGallons > CAPACITY_TOLERANCE * due
      ? Math.min(left - settings, (due - countedGallons) * hardnessGpg)
      : 0;
  const who: WasteCause = trigger === 'manual' ? 'manual' : byHand ? 'calendar-limit' : 'repeated';
  const ofCapacity = programmed ? settings * capacityPart(cycle, programmed) : 0;
  return [
    ['capacity-too-low', ofCapacity],
    ['hardness-too-high', settings - ofCapacity],
    [who, early],
    ['reserve', left - settings - early],
  ];
}

/** What the settings keep from use: the bed's own capacity over what they make of it. */
function keptByGrains({ capacityGrains, hardnessGpg }: SpentCycle, programmed: Programmed): number {
  const believed = believedGallons(programmed);
  return Number.isFinite(believed) ? Math.max(0, capacityGrains - believed * hardnessGpg) : 0;
}

/** Of that, the part that the capacity has in it and not the hardness: by their factors. */
function capacityPart({ capacityGrains, hardnessGpg }: SpentCycle, programmed: Programmed): number {
  const capacity = Math.max(0, Math.log(capacityGrains / programmed.capacityGrains));
  const hardness = Math.max(0, Math.log(programmed.hardnessGpg / hardnessGpg));
  return capacity + hardness > 0 ? capacity / (capacity + hardness) : 1;
}
