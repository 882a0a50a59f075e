import type { FlowDay, Regeneration } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { shareBefore } from '../../demand/dayShare.ts';
import { expectedUse } from '../../demand/household.ts';
import { believedGallons } from '../control.ts';
import { reserveOf } from '../controlCount.ts';
import type { Seen } from './memory.ts';

/** A cycle that is over, in US gallons. */
export interface EndedCycle {
  readonly at: Instant;
  readonly trigger: Regeneration['trigger'];
  /** Local days since the regeneration before. */
  readonly days: number;
  readonly usedGallons: number;
  readonly reserveGallons: number;
  /** Count and reserve on the last morning that was let pass. */
  readonly passedGallons: number;
  /** What the cycle's bed could take, and what was programmed. */
  readonly availableGallons: number;
  readonly programmedGallons: number;
  /** Whether it had days without a report, and the control did not tell its count: it may have begun unseen. */
  readonly isGuessed: boolean;
  readonly isCounted: boolean;
}

/** What a share of a day is known to, as a share of its use: that of the hours of a home's day. A guess, no source. */
const HOUR_SPREAD = 0.3;
/** A count that ends below this share of what is programmed was not due; one let pass beyond the other came late. */
const NOT_DUE = 0.88;
/** One of a pair of beds changes over the moment it is due; its count is known to this share, for the hour of the day. */
const KNOWN_TO = 0.92;
const LATE = 1.1;

/** The cycle that a regeneration ends, as far as it is known then, or null where the bed's ledger has none. */
export function endedCycle(
  { time, trigger, gallonsSince }: Regeneration,
  lastAt: Instant,
  { unit, state }: Seen,
): EndedCycle | null {
  const { bed, count, compensatedHardnessGpg: gpg } = state;
  const { previous } = bed;
  if (!previous) return null;
  const date = unit.zone.dateAt(time);
  const days = date - unit.zone.dateAt(lastAt);
  const counted = days === 0 ? shareBefore(unit.zone.hourAt(lastAt)) : 0;
  const share = Math.max(0, shareBefore(unit.zone.hourAt(time)) - counted);
  const known = previous.usedGrains / gpg + share * expectedUse(state.household, date);
  const programmed = believedGallons(state.programmed);
  return {
    at: time,
    trigger,
    days,
    usedGallons: tenths(gallonsSince ?? known),
    reserveGallons: tenths(reserveOf(count, unit.alternating)),
    passedGallons: tenths(days > 1 ? count.letPassBeforeGallons : 0),
    availableGallons: tenths(previous.availableGrains / gpg),
    programmedGallons: Math.max(
      1,
      tenths(Number.isFinite(programmed) ? programmed : bed.capacityGrains / gpg),
    ),
    isGuessed: gallonsSince === undefined && previous.imputedGrains > 0,
    isCounted: gallonsSince !== undefined,
  };
}

/** The same once the flow day of its end is known: what was drawn before it is as good as it gets. */
export function onItsDay(cycle: EndedCycle, day: FlowDay, { unit, state }: Seen): EndedCycle {
  const { previous } = state.bed;
  if (cycle.isCounted || !previous || day.date !== unit.zone.dateAt(cycle.at)) return cycle;
  // Named one by one, for one hidden class: a spread makes a new one.
  return {
    at: cycle.at,
    trigger: cycle.trigger,
    days: cycle.days,
    usedGallons: tenths(previous.usedGrains / state.compensatedHardnessGpg),
    reserveGallons: cycle.reserveGallons,
    passedGallons: cycle.passedGallons,
    availableGallons: cycle.availableGallons,
    programmedGallons: cycle.programmedGallons,
    isGuessed: cycle.isGuessed,
    isCounted: cycle.isCounted,
  };
}

/** Whether the control ended it by itself, as far as is known. */
export function isByCount({ trigger }: EndedCycle): boolean {
  return trigger === 'metered' || trigger === 'unknown';
}

/** What the control had counted, with the reserve, when it last was not due yet. */
export function passedGallons({ usedGallons, passedGallons: passed }: EndedCycle, { unit }: Seen): number {
  return unit.alternating ? KNOWN_TO * usedGallons : passed;
}

/** Whether a cycle left much in the bed that could have been used, or ended without being due. */
export function isEarly(cycle: EndedCycle, inTimeShare: number): boolean {
  const { usedGallons, reserveGallons, availableGallons, programmedGallons } = cycle;
  const end = usedGallons + reserveGallons;
  return (isByCount(cycle) && end < NOT_DUE * programmedGallons) || end < inTimeShare * availableGallons;
}

/** Whether the control ended a cycle when it was due by what is known to be programmed, and not later. */
export function wasDue(cycle: EndedCycle, passed: number): boolean {
  const { usedGallons, reserveGallons, programmedGallons } = cycle;
  const isLate = passed > LATE * programmedGallons;
  return isByCount(cycle) && !isLate && usedGallons + reserveGallons >= NOT_DUE * programmedGallons;
}

/**
 * Standard deviation of a use that was not told, for the hours at which it began and ended. A single bed mostly
 * regenerates by night, when hardly anything is drawn; of a pair one does at any hour, and on a leak more than once a day.
 */
export function byTheHour({ isCounted }: EndedCycle, { unit, state }: Seen): number {
  if (!unit.alternating || isCounted) return 0;
  return HOUR_SPREAD * Math.max(0, ...state.count.lastDays.slice(-2));
}

/** Gallons to a tenth: what is kept with every unit is kept short. */
function tenths(gallons: number): number {
  return Math.round(gallons * 10) / 10;
}
