import type { LocalDate } from '../../shared/time/localDate.ts';
import { type DayQuantiles, daysUntil } from './daySearch.ts';
import type { Household } from './household.ts';
import { reserveOverrun } from './overrun.ts';
import { type ReserveAhead, reserveAhead } from './reserve.ts';
import { useAhead } from './useAhead.ts';

export type { DayQuantiles };

/** What the control of a unit knows and does, at the end of the last day counted. */
export interface ControlAhead extends ReserveAhead {
  /** Whether it holds a reserve and waits for its hour (true), or regenerates at once when its count is used up. */
  readonly reserve: boolean;
}

/** What an overrun depends on: the control's view and the bed's true state. */
export interface BedAhead extends ControlAhead {
  /** What the bed truly has left, gallons. */
  readonly remainingGallons: number;
}

/** A bed that is used up once all its days together have used what it has left. */
const bed = {
  gallons: 0,
  daysBy: (day: number) => day,
  gallonsBy: () => bed.gallons,
};

/**
 * Days until `remainingGallons` are used up if nothing regenerates the bed: as use is never negative, that has
 * happened by day n just when the sum of n days reaches them. All 0 where nothing remains already.
 */
export function exhaustionDays(
  household: Household,
  lastCounted: LocalDate,
  remainingGallons: number,
): DayQuantiles {
  if (remainingGallons <= 0) return { p10: 0, p50: 0, p90: 0 };
  bed.gallons = remainingGallons;
  return daysUntil(useAhead(household, lastCounted), bed);
}

/**
 * Days until the control starts a regeneration. With a reserve it looks once a day, at its hour, and is due when
 * what it believes is left is not more than the mean use of the seven days before; 1 is the coming morning. Without,
 * it is the day on which its count is used up (all 0 where it is already).
 */
export function regenerationDays(
  household: Household,
  lastCounted: LocalDate,
  control: ControlAhead,
): DayQuantiles {
  if (!control.reserve) return exhaustionDays(household, lastCounted, control.believedGallons);
  const ahead = useAhead(household, lastCounted);
  return daysUntil(ahead, reserveAhead(ahead, control));
}

/**
 * Probability (0 to 1) that the bed runs out before the control next starts a regeneration; 1 where it has already.
 * With a reserve it is approximate: against the same model drawn day by day it is off by 0.01 to 0.02 on the whole,
 * and by 0.12 at worst (a large reserve and a control that believes in more than the bed has), or 0.17 where a third of
 * the day's use comes before the hour.
 */
export function overrunProbability(household: Household, lastCounted: LocalDate, ahead: BedAhead): number {
  const { remainingGallons } = ahead;
  if (remainingGallons <= 0) return 1;
  // Without a reserve the two counts race over the same use.
  if (!ahead.reserve) return remainingGallons < ahead.believedGallons ? 1 : 0;
  return reserveOverrun(household, lastCounted, ahead, remainingGallons);
}
