/**
 * What stands for the time that water flows where a unit does not sense it: the least of a week's days. Whatever runs
 * without a pause is in every day's use; people and gardens rest now and then.
 */
export interface LeastUse {
  /** US gallons of the latest days, oldest first; not more than a week of them. */
  readonly recent: readonly number[];
  /** Mean use of a day before those, US gallons, and the days behind it. */
  readonly usual: number;
  readonly days: number;
}

const WEEK = 7;
/** How far back the mean reaches, in days. */
const MEMORY_DAYS = 30;
/** Below this share of the usual somebody was away. As in lib/demand/household.ts. */
const AWAY_SHARE = 0.2;
/** No day counts for more than so many usual ones. */
const MOST_TIMES = 2.5;
/** A home of less stands empty as a rule, and every stay in it is several times the usual. US gallons. */
const LEAST_USUAL = 20;
/** Before that many days nothing is usual yet. */
const LEAST_DAYS = 21;

/** Of a unit that has reported nothing yet. */
export const NO_USE: LeastUse = { recent: [], usual: 0, days: 0 };

/** Takes in a day. `isHigh`: the latest days are under suspicion, and teach nothing of what is usual. */
export function tookDay({ recent, usual, days }: LeastUse, gallons: number, isHigh: boolean): LeastUse {
  const next = recent.length < WEEK ? recent.slice() : recent.slice(1);
  next.push(gallons);
  const gone = recent.length === WEEK ? recent[0] : undefined;
  if (gone === undefined || isHigh || gone <= AWAY_SHARE * usual) return { recent: next, usual, days };
  const known = Math.min(MEMORY_DAYS, days + 1);
  const step = (days === 0 ? gone : Math.min(gone, MOST_TIMES * usual)) - usual;
  return { recent: next, usual: Math.round((usual + step / known) * 100) / 100, days: known };
}

/** The least of the latest days, US gallons; null before there is a week and something to compare it with. */
export function leastOf({ recent, usual, days }: LeastUse): number | null {
  if (recent.length < WEEK || days < LEAST_DAYS || usual < LEAST_USUAL) return null;
  let least = Number.POSITIVE_INFINITY;
  for (let day = 0; day < recent.length; day++) least = Math.min(least, recent[day] ?? least);
  return least;
}
