import { HORIZON_DAYS, type UseAhead } from './useAhead.ts';

/**
 * Quantiles of a day to come, in whole days ahead: 1 is the day after the last one counted; null is beyond 365. The
 * median is the first day by which it has come with 50 %. From p10 to p90, both included, are the whole days outside of
 * which there is as nearly 10 % on either side as whole days allow: rounded outwards they would hold 87 % on the whole.
 */
export interface DayQuantiles {
  readonly p10: number | null;
  readonly p50: number | null;
  readonly p90: number | null;
}

/** Something that has happened by a day if so many days use so much. */
export interface Target {
  /** Days that count for the `day`-th from now. */
  daysBy(day: number): number;
  /** What they must use, gallons; at 0 or less it has happened for certain. */
  gallonsBy(day: number): number;
}

/**
 * The quantiles looked for, and about how many standard deviations above its mean a sum of days has them, unless all
 * of the days may be away. The distribution itself is asked only within UNSURE_DEVIATIONS of that: on real households
 * this misses a quantile by less than 0.01 in probability (a test compares the two), and saves most of the cost.
 */
const PROBABILITIES = [0.1, 0.5, 0.9] as const;
const DEVIATIONS = [1.29, -0.04, -1.2] as const;
const UNSURE_DEVIATIONS = 0.3;

/** The days on which a target is reached: see DayQuantiles. */
export function daysUntil(ahead: UseAhead, target: Target): DayQuantiles {
  firstDays(ahead, target);
  const p10 = found[0] as number | null;
  const p50 = found[1] as number | null;
  const p90 = found[2] as number | null;
  const middle = p50 ?? HORIZON_DAYS;
  return {
    p10: p10 !== null && p10 < middle && isSeldomByNoon(ahead, target, p10) ? p10 + 1 : p10,
    p50,
    p90: p90 !== null && p90 > middle && isMostlyByNoon(ahead, target, p90) ? p90 - 1 : p90,
  };
}

// In the middle of a day the probability is the mean of that before and that after it; often one of them decides.

function isSeldomByNoon(ahead: UseAhead, target: Target, day: number): boolean {
  const twice = 2 * PROBABILITIES[0];
  const after = probabilityBy(ahead, target, day);
  return after < twice && probabilityBy(ahead, target, day - 1) + after < twice;
}

function isMostlyByNoon(ahead: UseAhead, target: Target, day: number): boolean {
  const twice = 2 * PROBABILITIES[2];
  const before = probabilityBy(ahead, target, day - 1);
  return before + 1 > twice && before + probabilityBy(ahead, target, day) > twice;
}

function probabilityBy(ahead: UseAhead, target: Target, day: number): number {
  return day === 0 ? 0 : ahead.reaches(target.daysBy(day), target.gallonsBy(day));
}

/** The first days by which a target is reached with PROBABILITIES. */
const found: (number | null)[] = [null, null, null];

/** Finds those. */
function firstDays(ahead: UseAhead, target: Target): void {
  let next = 0;
  let day = 1;
  for (; next < 3 && day <= HORIZON_DAYS; day++) {
    const days = target.daysBy(day);
    const gallons = target.gallonsBy(day);
    const short = gallons - ahead.mean(days);
    const deviation = ahead.deviation(days);
    if (ahead.seldomAway(days)) {
      while (next < 3) {
        const off = short - (DEVIATIONS[next] as number) * deviation;
        const isReached =
          Math.abs(off) < UNSURE_DEVIATIONS * deviation
            ? ahead.reaches(days, gallons) >= (PROBABILITIES[next] as number)
            : off < 0;
        if (!isReached) break;
        found[next] = day;
        next += 1;
      }
    } else {
      // By Cantelli's inequality it cannot be reached yet if it is so far off.
      const variance = deviation * deviation;
      const p = PROBABILITIES[next] as number;
      if (short <= 0 || variance >= p * (variance + short * short)) break;
    }
  }
  for (; next < 3; next++) {
    const last = firstDay(ahead, target, day, PROBABILITIES[next] as number);
    found[next] = last;
    day = last ?? HORIZON_DAYS + 1;
  }
}

/** The first day from `from` on by which a target is reached with probability `p`. */
function firstDay(ahead: UseAhead, target: Target, from: number, p: number): number | null {
  // Who has been away for weeks may be for months: no need to work out all of them.
  const possible = search(mayBeBy, ahead, target, from, p);
  return possible && search(isBy, ahead, target, possible, p);
}

type Question = (ahead: UseAhead, target: Target, day: number, p: number) => boolean;

const isBy: Question = (ahead, target, day, p) =>
  ahead.reaches(target.daysBy(day), target.gallonsBy(day)) >= p;

const mayBeBy: Question = (ahead, target, day, p) =>
  ahead.reachesAtMost(target.daysBy(day), target.gallonsBy(day)) >= p;

/** The first day from `from` on by which something is so, as it stays: by strides that double, then halves. */
function search(isSo: Question, ahead: UseAhead, target: Target, from: number, p: number): number | null {
  let low = from - 1;
  let high = from;
  for (let stride = 1; high <= HORIZON_DAYS; stride *= 2) {
    if (isSo(ahead, target, high, p)) break;
    if (high === HORIZON_DAYS) return null;
    low = high;
    high = Math.min(high + stride, HORIZON_DAYS);
  }
  if (high > HORIZON_DAYS) return null;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (isSo(ahead, target, middle, p)) high = middle;
    else low = middle;
  }
  return high;
}
