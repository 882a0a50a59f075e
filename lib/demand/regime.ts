import type { Household } from './household.ts';
import { short } from './short.ts';

/*
 * At home and away: how likely a household changes between them from one day to the next.
 */

/**
 * Who has been away for long stays longer: after n days the chance of return is down by 7 / (6 + n), not below a tenth.
 * Fitted to the runs of days away in fixtures/daiad-alicante, where it falls from a half to a twentieth.
 */
const STAY_DAYS = 6;
const LEAST_RETURN = 0.1;
/** A home day of less than this share of the usual: somebody left, or has just come. */
const PARTIAL_SHARE = 0.5;
/** How much likelier than after another home day the next is an away day then. From the same homes, rounded. */
const LEAVES_AFTER_PARTIAL = 2.5;
/** Chances are kept from certainty. */
const CHANCE = { least: 0.001, most: 0.98 } as const;
/** Visits to a weekday that its own leaving and returning must make before they outweigh those of the whole week. */
const WEEKDAY_REGIME_DAYS = 10;

/** Probability that the next day, of a weekday, is an away day. */
export function awayNext(household: Household, day: number): number {
  const { away } = household;
  return (
    away * (1 - returningAfter(household, household.awayDays, day)) +
    (1 - away) * leavingAfter(household, day)
  );
}

/** Probability that a household at home on the last day is away on the next, of a weekday. */
export function leavingAfter({ leaving, lastShare }: Household, day: number): number {
  const factor = lastShare !== null && lastShare < PARTIAL_SHARE ? LEAVES_AFTER_PARTIAL : 1;
  return Math.min(factor * at(leaving, day), CHANCE.most);
}

/** Probability that a household away for so many days in a row, 1 or more, is back on the next, of a weekday. */
export function returningAfter({ returning }: Household, awayDays: number, day: number): number {
  return at(returning, day) * stayFactor(awayDays);
}

/** The chance of return after so many days away in a row, over that after the first; 0 is as 1. */
export function stayFactor(awayDays: number): number {
  return Math.max((STAY_DAYS + 1) / (STAY_DAYS + Math.max(awayDays, 1)), LEAST_RETURN);
}

/**
 * The rates of the week after one more outcome, which was `error` above the chance of it, of `days` such days that have
 * told. All weekdays learn from it as one would from a whole record, the weekday itself again as from its own.
 */
export function learnRate(rates: readonly number[], day: number, error: number, days: number): number[] {
  const shared = error / days;
  const own = error / (WEEKDAY_REGIME_DAYS + days / 7);
  const next = rates.slice();
  for (let each = 0; each < 7; each++) {
    const rate = at(rates, each) + shared + (each === day ? own : 0);
    next[each] = short(Math.min(Math.max(rate, CHANCE.least), CHANCE.most));
  }
  return next;
}

function at(week: readonly number[], day: number): number {
  return week[day] as number;
}
