import { ABSENCE_SPREAD, ABSENCES_A_YEAR, atLeastShare, TRICKLING_SHARE } from '../simulation/household.ts';
import { STALLS } from '../simulation/stalls.ts';
import { SHORTEST_ABSENCE_DAYS } from '../simulation/truth.ts';

/** How many values a range has. */
export function countOf({ least, most }: { least: number; most: number }): number {
  return most - least + 1;
}

/** Days of a simulation, from 0, on which a meter may stall, both included; see `withFault`. */
export function stallDays(days: number): { first: number; last: number } {
  const first = Math.min(STALLS.soundDays, Math.floor(days / 3));
  return { first, last: Math.max(first, days - STALLS.daysToShow) };
}

/** The share of stalls that nobody has mended so many days after they began. */
export function stillStalled(days: number): number {
  const { mended, mendedAfter } = STALLS;
  const later = Math.min(countOf(mendedAfter), Math.max(0, mendedAfter.most - days));
  return 1 - mended + (mended * later) / countOf(mendedAfter);
}

/** The share of absences that last for so many days or more, and were not announced. */
export function unannouncedShare(days: number): number {
  if (days >= SHORTEST_ABSENCE_DAYS) return (1 - STALLS.announced) * atLeastShare(days);
  return atLeastShare(days) - STALLS.announced * atLeastShare(SHORTEST_ABSENCE_DAYS);
}

/** The share of absences of just so many days that nobody announces. */
export function notAnnounced(days: number): number {
  return days >= SHORTEST_ABSENCE_DAYS ? 1 - STALLS.announced : 1;
}

const SHAPE = ABSENCE_SPREAD ** -2;
const MEAN_A_DAY = ABSENCES_A_YEAR / 365;
/** Points at which the spread of rates between homes is integrated; twice as many change it by less than 0.01 %. */
const POINTS = 600;
/**
 * Rates a day of absences at which the prior is weighed: gamma with the simulator's mean and spread, on even steps of the
 * root of the rate, as the density has a pole at 0. Rates of 1 and more, one home in 10^9, are left out.
 */
const RATES = Array.from({ length: POINTS }, (_, index) => {
  const root = (index + 0.5) / POINTS;
  const rate = root * root;
  const logWeight = (SHAPE - 1) * Math.log(rate) - (SHAPE / MEAN_A_DAY) * rate + Math.log(root);
  return { rate, logRate: Math.log(rate), logStays: Math.log1p(-rate), logWeight };
});

/**
 * The probability that an absence which shows as zeros begins on a day at this home, by its past: how rates are spread
 * over homes, what this one did, and that in some homes something draws on while nobody is there.
 *
 * @param left how often it has left on one of the days on which it might have
 * @param stayed on how many of them it has not
 */
export function leavesADay(left: number, stayed: number): number {
  const logs = RATES.map(
    ({ logRate, logStays, logWeight }) => logWeight + left * logRate + stayed * logStays,
  );
  const top = Math.max(...logs);
  let evidence = 0;
  let weighed = 0;
  RATES.forEach(({ rate }, index) => {
    const weight = Math.exp((logs[index] ?? -Infinity) - top);
    evidence += weight;
    weighed += weight * rate;
  });
  return (weighed / evidence) * seenAway(left, Math.log(evidence) + top);
}

const LOG_ALL = Math.log(RATES.reduce((sum, { logWeight }) => sum + Math.exp(logWeight), 0));

/** The probability that this home's absences show, which one that has shown itself settles. */
function seenAway(left: number, logEvidence: number): number {
  if (left > 0) return 1;
  const shows = (1 - TRICKLING_SHARE) * Math.exp(logEvidence - LOG_ALL);
  return shows / (shows + TRICKLING_SHARE);
}
