import type { LocalDate } from '../../shared/time/localDate.ts';
import { isDue, RESERVE_DAYS, reserveGallons } from './control.ts';

/**
 * What the control has counted and, from when it regenerates, what it must have been programmed with: each
 * regeneration by its own count says that the count plus the reserve had reached its capacity by then, and had not on
 * the morning before.
 */
export interface ControlCount {
  /** Treated water since the last regeneration, US gallons. */
  gallons: number;
  /** Whether this cycle's begin was not reported but assumed: it says nothing of the control's capacity. */
  isAssumed: boolean;
  /** Use of the previous days, at most seven, oldest first. */
  lastDays: number[];
  /** Count plus reserve on the last morning that the control let pass since its last regeneration. */
  letPassGallons: number;
  /** Mornings in a row on which it was due and did not regenerate. */
  missedMornings: number;
  /** The first of those. */
  missedSince: LocalDate | null;
  /** The same of the cycle before, and whether the control ended that by its own count. */
  missedBefore: number;
  endedByItself: boolean;
  /** What the last regenerations by the control's own count say of its capacity in gallons, oldest first. */
  bounds: CapacityBounds[];
  /** Local hours at which the last regenerations by its own count began. */
  hours: number[];
}

/** The control's capacity is over `overGallons` and at most `upToGallons`. */
export interface CapacityBounds {
  overGallons: number;
  upToGallons: number;
}

/** How many regenerations are remembered: enough to outvote one odd day, few enough to follow a new setting. */
const BOUNDS_KEPT = 6;
/** How many in a row must contradict the record before it is not believed. */
const BOUNDS_NEEDED = 3;
/** What a count may be off by, for the hours between midnight and the regeneration: a share of the capacity. */
const TOLERANCE = 0.05;
const HOURS_KEPT = 3;

/** A control that has counted nothing yet. */
export function newCount(): ControlCount {
  return {
    gallons: 0,
    isAssumed: false,
    lastDays: [],
    letPassGallons: 0,
    missedMornings: 0,
    missedSince: null,
    missedBefore: 0,
    endedByItself: true,
    bounds: [],
    hours: [],
  };
}

/** The reserve that the control holds back, US gallons: none on alternating beds. */
export function reserveOf(count: ControlCount, alternating: boolean): number {
  return alternating ? 0 : reserveGallons(count.lastDays);
}

/**
 * Counts a local day on which no regeneration began, or the part of it since one did.
 *
 * @param regenerated whether a regeneration began on that day
 * @param share share of the day that came after it, 1 without one
 */
export function countDay(
  count: ControlCount,
  date: LocalDate,
  day: { gallons: number; share: number; regenerated: boolean; inService: boolean },
  capacityGallons: number,
  alternating: boolean,
) {
  const reserve = reserveOf(count, alternating);
  if (!day.regenerated && day.inService) {
    if (isDue(capacityGallons - count.gallons, reserve)) {
      count.missedMornings += 1;
      count.missedSince ??= date;
    }
    count.letPassGallons = Math.max(count.letPassGallons, count.gallons + reserve);
  }
  count.gallons += day.share * day.gallons;
  if (count.lastDays.length >= RESERVE_DAYS) count.lastDays.shift();
  count.lastDays.push(day.gallons);
}

/** Ends the count at a regeneration. One by the control's own count (`metered`) says something of its settings. */
export function endCount(
  count: ControlCount,
  regeneration: { metered: boolean; hour: number; countedGallons: number; alternating: boolean },
) {
  if (regeneration.metered && !count.isAssumed) {
    const upToGallons = regeneration.countedGallons + reserveOf(count, regeneration.alternating);
    keep(
      count.bounds,
      { overGallons: Math.min(count.letPassGallons, upToGallons), upToGallons },
      BOUNDS_KEPT,
    );
    keep(count.hours, Math.floor(regeneration.hour), HOURS_KEPT);
  }
  count.missedBefore = count.missedMornings;
  count.endedByItself = regeneration.metered;
  count.gallons = 0;
  count.isAssumed = false;
  count.letPassGallons = 0;
  count.missedMornings = 0;
  count.missedSince = null;
}

/** Forgets what was learnt: the settings are known anew. */
export function forgetLearnt(count: ControlCount) {
  count.bounds = [];
  count.hours = [];
}

/**
 * The capacity in gallons by which the control acts: as programmed, unless its last regenerations all contradict that
 * on the same side; then the middle of what they say.
 */
export function actingCapacityGallons(count: ControlCount, programmedGallons: number): number {
  const recent = count.bounds.slice(-BOUNDS_NEEDED);
  if (recent.length < BOUNDS_NEEDED) return programmedGallons;
  const early = recent.every((bound) => programmedGallons > bound.upToGallons * (1 + TOLERANCE));
  const late = recent.every((bound) => programmedGallons < bound.overGallons * (1 - TOLERANCE));
  if (!early && !late) return programmedGallons;
  const middles = recent.map((bound) => (bound.overGallons + bound.upToGallons) / 2).sort((a, b) => a - b);
  return middles[Math.floor(middles.length / 2)] ?? programmedGallons;
}

/** The hour at which the control acts: as programmed, unless its last regenerations all began at another. */
export function actingHour(count: ControlCount, programmedHour: number): number {
  const [first] = count.hours;
  const agreed = count.hours.length === HOURS_KEPT && count.hours.every((hour) => hour === first);
  return agreed && first !== undefined ? first : programmedHour;
}

function keep<Item>(items: Item[], item: Item, most: number) {
  if (items.length >= most) items.shift();
  items.push(item);
}
