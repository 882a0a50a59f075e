import type { Regeneration } from '../../shared/facts.ts';
import { RATED_GRAINS_PER_LB } from '../softening/efficiency.ts';
import { CAPACITY_TOLERANCE } from '../unit/controlCount.ts';

/**
 * What salt is spent on beside the hardness of the water that a household draws. Each pound is booked under one of them
 * at the most:
 *
 * - `leak`: hardness of water that ran on days on which flow never stopped, beyond what was expected of the household
 * - `capacity-too-low`, `hardness-too-high`: capacity of the bed that what is programmed does not let it use
 * - `reserve`: capacity that the control holds back by its rule, and what is left of the day on which it regenerates
 * - `manual`, `calendar-limit`: what was left beyond these when somebody, or a limit of days, started it
 * - `repeated`: the same where the control started before its own count was due
 * - `dose`: salt of a dose beyond what the same hardness would take at 3,350 grains per lb
 *
 * So settings come first, the reserve next, and whoever started it answers for no more than would have been used had he
 * waited. What a bed that ran out could not take is no waste of salt: there only the dose may be too rich.
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

/** Salt by what it was spent on in vain, lb; what is not named is 0. Never written to once it is made. */
export type Wasted = { readonly [cause in WasteCause]?: number };

type Writable = { -readonly [cause in WasteCause]?: number };

/** A cycle that a regeneration ends, and what regenerates it. */
export interface SpentCycle {
  readonly trigger: Regeneration['trigger'];
  /** Salt of a whole dose, lb, above 0, and how much of it is booked as used, 0 to 1. */
  readonly doseLb: number;
  readonly drawnShare: number;
  /** What a whole dose gives the bed, what the bed could take in this cycle, and what it took, grains. */
  readonly capacityGrains: number;
  readonly availableGrains: number;
  readonly usedGrains: number;
  /** The part of that which leaked. */
  readonly leakedGrains: number;
  /** What each gallon takes from the bed, gpg. */
  readonly hardnessGpg: number;
  /** What the control counted, and what it held back, US gallons. */
  readonly countedGallons: number;
  readonly reserveGallons: number;
  /** What it goes by: gallons in all, and the hardness in it; null where it has lost its settings. */
  readonly control: { readonly gallons: number; readonly hardnessGpg: number } | null;
}

/** The salt that a regeneration spent in vain. All of it together is never more than what is booked as used. */
export function wastedAt(cycle: SpentCycle): Wasted {
  const { doseLb, drawnShare, capacityGrains } = cycle;
  const left = Math.min(capacityGrains, Math.max(0, cycle.availableGrains - cycle.usedGrains));
  // Short doses before this one are made up for, too.
  const restored = capacityGrains - left;
  const lbPerGrain = doseLb / capacityGrains;
  const neededLbPerGrain = Math.min(lbPerGrain, 1 / RATED_GRAINS_PER_LB);
  const wasted: Writable = {};
  bookLeft(wasted, cycle, left, lbPerGrain);
  book(wasted, 'leak', Math.min(cycle.leakedGrains, restored) * neededLbPerGrain, drawnShare);
  book(wasted, 'dose', restored * (lbPerGrain - neededLbPerGrain), drawnShare);
  return wasted;
}

/** Adds what was wasted to what is booked. Causes stand in their order, whichever came first. */
export function addWasted(booked: Wasted, wasted: Wasted): Wasted {
  const sum: Writable = {};
  for (const cause of WASTE_CAUSES) {
    const before = booked[cause];
    const more = wasted[cause];
    if (before !== undefined || more !== undefined) sum[cause] = (before ?? 0) + (more ?? 0);
  }
  return sum;
}

function book(wasted: Writable, cause: WasteCause, lb: number, drawnShare: number) {
  if (lb > 0) wasted[cause] = (wasted[cause] ?? 0) + drawnShare * lb;
}

/** Books what was left, grains: what settings keep from use, then the reserve, then whoever came before it was due. */
function bookLeft(wasted: Writable, cycle: SpentCycle, left: number, lbPerGrain: number) {
  const { hardnessGpg, reserveGallons, control, drawnShare } = cycle;
  const settings = control ? Math.min(left, keptFromUse(cycle, control.gallons)) : 0;
  const ofHardness = control && settings > 0 ? settings * hardnessPart(cycle, control) : 0;
  const reserve = Math.min(left - settings, reserveGallons * hardnessGpg);
  book(wasted, 'capacity-too-low', (settings - ofHardness) * lbPerGrain, drawnShare);
  book(wasted, 'hardness-too-high', ofHardness * lbPerGrain, drawnShare);
  book(wasted, 'reserve', reserve * lbPerGrain, drawnShare);
  book(wasted, startedBy(cycle), (left - settings - reserve) * lbPerGrain, drawnShare);
}

/** What all that was left beyond settings and reserve is down to. */
function startedBy({ trigger, control, countedGallons, reserveGallons }: SpentCycle): WasteCause {
  if (trigger === 'manual') return 'manual';
  if (trigger === 'override') return 'calendar-limit';
  // Whatever a control falls back to that lost its settings, it is less than the bed could give.
  if (!control) return 'capacity-too-low';
  const due = control.gallons - reserveGallons;
  return countedGallons < (1 - CAPACITY_TOLERANCE) * due ? 'repeated' : 'reserve';
}

/** The bed's own capacity over what the control makes of it. */
function keptFromUse({ capacityGrains, hardnessGpg }: SpentCycle, controlGallons: number): number {
  return Math.max(0, capacityGrains - controlGallons * hardnessGpg);
}

/** Of that, the part that is down to the hardness and not to the capacity, 0 to 1: by their factors. */
function hardnessPart(
  { capacityGrains, hardnessGpg }: SpentCycle,
  control: { gallons: number; hardnessGpg: number },
): number {
  const both = Math.log(capacityGrains / (control.gallons * hardnessGpg));
  const hardness = Math.log(control.hardnessGpg / hardnessGpg);
  return both > 0 ? Math.min(1, Math.max(0, hardness / both)) : 0;
}
