import type { LocalDate } from '../../shared/time/localDate.ts';
import { isDue, RESERVE_DAYS, reserveGallons } from './control.ts';
import type { Reading } from './tankLevel.ts';

/**
 * What the control has counted and, from when it regenerates, what it must have been programmed with: each
 * regeneration by its own count says that the count plus the reserve had reached its capacity by then, and had not on
 * the morning before.
 */
export interface ControlCount {
  /** Treated water since the last regeneration, US gallons. */
  gallons: number;
  /** The part of that which stands for days without a report. */
  imputedGallons: number;
  /**
   * Standard deviation of that, since of the day on which the cycle began only the whole is known: were it drawn in a
   * few bouts of any time, about p (1 - p) of it, of which the share p is expected after the regeneration.
   */
  splitGallons: number;
  /** Whether this cycle's begin was not reported but assumed: it says nothing of the control's capacity. */
  isAssumed: boolean;
  /** How its settings are known: from the record, by its own report, or not at all since it lost them. */
  settings: 'on-record' | 'reported' | 'lost';
  /** Whether they were changed since the last day that was counted: that morning still went by others. */
  changedToday: boolean;
  /** Use of the previous days, at most seven, oldest first. */
  lastDays: number[];
  /** Count plus reserve on the last morning that the control let pass since its last regeneration. */
  letPassGallons: number;
  /** Mornings in a row on which it was due and did not regenerate. */
  missedMornings: number;
  /** The first of those. */
  missedSince: LocalDate | null;
  /** Salt by the readings since the last regeneration, up to the day before the first of those. */
  levelBeforeDue: Reading | null;
  /** How near it was to its turn on a day without a report: the most that it can have had to judge by then, or 0. */
  gapReachGallons: number;
  /** Mornings in a row on which it was not in service. */
  idleMornings: number;
  /** Of the cycle before: mornings missed, what was let pass, split and reach, and whether it ended by its count. */
  missedBefore: number;
  letPassBeforeGallons: number;
  splitBeforeGallons: number;
  gapReachBeforeGallons: number;
  endedByItself: boolean;
  /** What the last regenerations by the control's own count say of its capacity in gallons, oldest first. */
  bounds: CapacityBounds[];
  /** Count plus reserve at the midnight before the last of these, until the flow day of that regeneration is known. */
  boundFromGallons: number | null;
  /** Local hours at which the last regenerations by its own count began. */
  hours: number[];
}

/** What one cycle says: the control's capacity is over `overGallons` and at most `upToGallons`. */
export interface CapacityBounds {
  readonly overGallons: number;
  readonly upToGallons: number;
  /** What it had counted by its regeneration, and the local day of that. */
  readonly countedGallons: number;
  readonly endedOn: LocalDate;
}

/** How many regenerations are remembered: enough to outvote one odd day, few enough to follow a new setting. */
const BOUNDS_KEPT = 6;
/** How many in a row must contradict the record before it is not believed. */
const BOUNDS_NEEDED = 3;
/** What a count may be off by, for the hours between midnight and the regeneration: a share of the capacity. */
export const CAPACITY_TOLERANCE = 0.05;
/** A guessed day is off by about half of itself: up to this share of guesses keeps a count within that tolerance. */
const MOST_IMPUTED = 0.1;
const HOURS_KEPT = 3;

/** A control that has counted nothing yet: what it had counted before its first report is not known. */
export function newCount(): ControlCount {
  return {
    gallons: 0,
    imputedGallons: 0,
    splitGallons: 0,
    isAssumed: true,
    settings: 'on-record',
    changedToday: false,
    lastDays: [],
    letPassGallons: 0,
    missedMornings: 0,
    missedSince: null,
    levelBeforeDue: null,
    gapReachGallons: 0,
    idleMornings: 0,
    missedBefore: 0,
    letPassBeforeGallons: 0,
    splitBeforeGallons: 0,
    gapReachBeforeGallons: 0,
    endedByItself: true,
    bounds: [],
    boundFromGallons: null,
    hours: [],
  };
}

/** A copy that shares nothing that is written to. */
export function copyCount(count: ControlCount): ControlCount {
  return {
    gallons: count.gallons,
    imputedGallons: count.imputedGallons,
    splitGallons: count.splitGallons,
    isAssumed: count.isAssumed,
    settings: count.settings,
    changedToday: count.changedToday,
    lastDays: count.lastDays.slice(),
    letPassGallons: count.letPassGallons,
    missedMornings: count.missedMornings,
    missedSince: count.missedSince,
    levelBeforeDue: count.levelBeforeDue,
    gapReachGallons: count.gapReachGallons,
    idleMornings: count.idleMornings,
    missedBefore: count.missedBefore,
    letPassBeforeGallons: count.letPassBeforeGallons,
    splitBeforeGallons: count.splitBeforeGallons,
    gapReachBeforeGallons: count.gapReachBeforeGallons,
    endedByItself: count.endedByItself,
    bounds: count.bounds.slice(),
    boundFromGallons: count.boundFromGallons,
    hours: count.hours.slice(),
  };
}

/** The reserve that the control holds back, US gallons: none on alternating beds. */
export function reserveOf(count: ControlCount, alternating: boolean): number {
  return alternating ? 0 : reserveGallons(count.lastDays);
}

/** A local day as the control counts it. */
export interface CountedDay {
  readonly gallons: number;
  /** Whether a regeneration began on it, and the share of the day that came after that, 1 without one. */
  readonly regenerated: boolean;
  readonly share: number;
  /** Whether it was not reported: what stands in its place is a guess. */
  readonly imputed: boolean;
  readonly inService: boolean;
  /** The salt in the tank by the readings since the last regeneration. */
  readonly level: Reading | null;
}

/** Counts a local day on which no regeneration began, or the part of it since one did. */
export function countDay(
  count: ControlCount,
  date: LocalDate,
  day: CountedDay,
  capacityGallons: number,
  alternating: boolean,
) {
  const reserve = reserveOf(count, alternating);
  // Of two beds either may have been due at any time of the day, so any of the day's use may have come before.
  if (day.regenerated) settleBound(count, date, (alternating ? 1 : 1 - day.share) * day.gallons);
  const wasAsked = day.inService && !count.changedToday && count.idleMornings === 0;
  if (!day.regenerated && wasAsked) {
    if (isDue(capacityGallons - count.gallons, reserve)) {
      count.missedMornings += 1;
      count.missedSince ??= date;
    }
    count.letPassGallons = Math.max(count.letPassGallons, count.gallons + reserve);
  }
  if (day.imputed && !day.regenerated) {
    const reach = count.gallons + reserve + (alternating ? day.gallons : 0);
    count.gapReachGallons = Math.max(count.gapReachGallons, reach);
  }
  count.idleMornings = day.inService ? 0 : count.idleMornings + 1;
  count.changedToday = false;
  if (count.missedMornings === 0) count.levelBeforeDue = day.level;
  count.gallons += day.share * day.gallons;
  if (day.imputed) count.imputedGallons += day.share * day.gallons;
  if (day.regenerated) count.splitGallons = day.share * (1 - day.share) * day.gallons;
  keep(count.lastDays, day.gallons, RESERVE_DAYS);
}

/** Ends the count at a regeneration. One by the control's own count (`metered`) says something of its settings. */
export function endCount(
  count: ControlCount,
  regeneration: { metered: boolean; hour: number; countedGallons: number; alternating: boolean },
) {
  // Within a day nothing has been counted yet: a second regeneration says nothing.
  const isExact = count.gallons > 0 && count.imputedGallons <= MOST_IMPUTED * count.gallons;
  if (regeneration.metered && isExact && !count.isAssumed) {
    const reserve = reserveOf(count, regeneration.alternating);
    const { countedGallons } = regeneration;
    const upToGallons = countedGallons + reserve + count.splitGallons;
    const overGallons = Math.max(0, Math.min(count.letPassGallons - count.splitGallons, upToGallons));
    // The day is written in once it is known.
    keep(count.bounds, { overGallons, upToGallons, countedGallons, endedOn: 0 }, BOUNDS_KEPT);
    keep(count.hours, Math.floor(regeneration.hour), HOURS_KEPT);
    count.boundFromGallons = count.gallons + reserve + count.splitGallons;
  }
  count.missedBefore = count.missedMornings;
  count.letPassBeforeGallons = count.letPassGallons;
  count.splitBeforeGallons = count.splitGallons;
  count.gapReachBeforeGallons = count.gapReachGallons;
  count.endedByItself = regeneration.metered;
  count.gallons = 0;
  count.imputedGallons = 0;
  count.splitGallons = 0;
  count.isAssumed = false;
  count.letPassGallons = 0;
  count.missedMornings = 0;
  count.missedSince = null;
  count.levelBeforeDue = null;
  count.gapReachGallons = 0;
}

/** The control has reported its settings. What was learnt of others is forgotten. */
export function reportSettings(count: ControlCount, changed: boolean) {
  count.settings = 'reported';
  if (changed) forgetLearnt(count);
  count.changedToday ||= changed;
}

/** The control has lost its settings, and nobody knows what it goes by until it reports or shows it. */
export function loseSettings(count: ControlCount) {
  count.settings = 'lost';
  forgetLearnt(count);
}

function forgetLearnt(count: ControlCount) {
  count.bounds = [];
  count.boundFromGallons = null;
  count.hours = [];
  count.letPassGallons = 0;
  count.missedMornings = 0;
  count.missedSince = null;
}

/**
 * The capacity in gallons by which the control acts: as programmed, unless its last regenerations all contradict that
 * on the same side; then the middle of what they say, until it lets more pass than any of them.
 */
export function actingCapacityGallons(count: ControlCount, programmedGallons: number): number {
  const { bounds } = count;
  const settled = settledCount(count);
  if (settled < BOUNDS_NEEDED) return programmedGallons;
  let early = true;
  let late = true;
  let most = 0;
  // It is asked several times a day, and nearly always the last of them agrees with the record.
  for (let index = settled - 1; index >= settled - BOUNDS_NEEDED; index--) {
    const bound = bounds[index];
    if (!bound) break;
    early &&= programmedGallons > bound.upToGallons * (1 + CAPACITY_TOLERANCE);
    late &&= programmedGallons < bound.overGallons * (1 - CAPACITY_TOLERANCE);
    if (!early && !late) return programmedGallons;
    most = Math.max(most, bound.upToGallons);
  }
  if (early && count.letPassGallons > most * (1 + CAPACITY_TOLERANCE)) return programmedGallons;
  const middles = bounds
    .slice(settled - BOUNDS_NEEDED, settled)
    .map((bound) => (bound.overGallons + bound.upToGallons) / 2)
    .sort((a, b) => a - b);
  return middles[Math.floor(middles.length / 2)] ?? programmedGallons;
}

/** What its cycles say, but for one that ended on a day of which the use is not known yet. */
export function settledBounds(count: ControlCount): readonly CapacityBounds[] {
  return count.boundFromGallons === null ? count.bounds : count.bounds.slice(0, settledCount(count));
}

/** How many of its cycles, from the oldest, those are. */
export function settledCount({ bounds, boundFromGallons }: ControlCount): number {
  return boundFromGallons === null ? bounds.length : Math.max(0, bounds.length - 1);
}

/** The hour at which the control acts: as programmed, unless its last regenerations all began at another. */
export function actingHour(count: ControlCount, programmedHour: number): number {
  const { hours } = count;
  const first = hours[0];
  if (hours.length !== HOURS_KEPT || first === undefined) return programmedHour;
  for (let index = 1; index < HOURS_KEPT; index++) if (hours[index] !== first) return programmedHour;
  return first;
}

/** What was drawn before the last regeneration is known now; where it was more than was expected, it was not so early. */
function settleBound(count: ControlCount, endedOn: LocalDate, drawnBefore: number) {
  const { boundFromGallons: from, bounds } = count;
  const last = bounds[bounds.length - 1];
  count.boundFromGallons = null;
  if (from === null || !last) return;
  bounds[bounds.length - 1] = {
    overGallons: last.overGallons,
    upToGallons: Math.max(last.upToGallons, from + drawnBefore),
    countedGallons: last.countedGallons,
    endedOn,
  };
}

/** Puts an item behind the others; where there are as many as are kept, the oldest goes. */
function keep<Item>(items: Item[], item: Item, most: number) {
  if (items.length >= most) items.shift();
  items.push(item);
}
