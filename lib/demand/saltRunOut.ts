import type { LocalDate } from '../../shared/time/localDate.ts';
import type { DayQuantiles } from './daySearch.ts';
import { normalProbability } from './gamma.ts';
import type { Household } from './household.ts';
import { HORIZON_DAYS, type UseAhead, useAhead } from './useAhead.ts';

/** The salt in a tank and how it goes, at the end of the last day counted. */
export interface SaltAhead {
  /** Salt in the tank, lb, and the standard deviation of what is known of it. */
  readonly lb: number;
  readonly deviationLb: number;
  /** Salt that a regeneration takes, lb (above 0), and its standard deviation from one to the next as a share of it. */
  readonly doseLb: number;
  readonly doseSpread: number;
  /** Treated water until the next regeneration (0 or more) and of each cycle after it (above 0), gallons. */
  readonly untilNextGallons: number;
  readonly cycleGallons: number;
  /** What cycles will seem to be used up by, over the use forecast: lognormal, its median and the deviation of its log. */
  readonly pace: number;
  readonly paceSpread: number;
}

/** Gauss and Hermite's quadrature of a standard normal variable by three points: exact for its moments up to the fifth. */
const NODES = [
  { deviate: -Math.sqrt(3), weight: 1 / 6 },
  { deviate: 0, weight: 2 / 3 },
  { deviate: Math.sqrt(3), weight: 1 / 6 },
] as const;
/** Beyond so many standard deviations it is taken for certain, either way. */
const CERTAIN_DEVIATIONS = 3.5;
/** Numbers of doses below this probability are left out. */
const NEGLIGIBLE = 1e-3;

/**
 * Probability that within the next `days` days (0 to the horizon) a regeneration lacks some of its salt. With k whole
 * doses in the tank that is the (k + 1)th, so it has come by day n just when the use of n days, at the pace of the
 * cycles, reaches the water before that one: a sum over k.
 */
export function runOutProbability(
  household: Household,
  lastCounted: LocalDate,
  salt: SaltAhead,
  days: number,
): number {
  return within(useAhead(household, lastCounted), salt, days);
}

/** The first days by which the salt has run out with 10, 50 and 90 % probability, 1 being the day after the last one counted; null beyond 365. */
export function runOutDays(household: Household, lastCounted: LocalDate, salt: SaltAhead): DayQuantiles {
  const ahead = useAhead(household, lastCounted);
  const first = (p: number, from: number) => firstDay(ahead, salt, p, from);
  const p10 = first(0.1, 1);
  const p50 = p10 === null ? null : first(0.5, p10);
  const p90 = p50 === null ? null : first(0.9, p50);
  return { p10, p50, p90 };
}

function within(ahead: UseAhead, salt: SaltAhead, days: number): number {
  const { untilNextGallons, cycleGallons, pace, paceSpread } = salt;
  if (days === 0) return 0;
  const sure = surely(ahead, salt, days);
  if (sure !== null) return sure;
  let runsOut = 0;
  for (let doses = 0, holds = 1; holds > NEGLIGIBLE; doses++) {
    const holdsMore = holdsDoses(salt, doses + 1);
    const probability = holds - holdsMore;
    holds = holdsMore;
    if (probability < NEGLIGIBLE) continue;
    const gallons = untilNextGallons + doses * cycleGallons;
    for (const { deviate, weight } of NODES) {
      const used = gallons / (pace * Math.exp(paceSpread * deviate));
      runsOut += probability * weight * reaches(ahead, days, used);
    }
  }
  return runsOut;
}

/** Whether the tank holds that many whole doses: their sum, of doses that vary, is no more than the salt. */
function holdsDoses({ lb, deviationLb, doseLb, doseSpread }: SaltAhead, doses: number): number {
  if (doses === 0) return 1;
  const variance = deviationLb ** 2 + doses * (doseSpread * doseLb) ** 2;
  return normalProbability((lb - doses * doseLb) / Math.sqrt(variance));
}

/** 0 or 1 where it is out of the question, which it is on most days; null where it must be worked out. */
function surely(ahead: UseAhead, salt: SaltAhead, days: number): number | null {
  const { lb, deviationLb, doseLb, doseSpread, untilNextGallons, cycleGallons, pace, paceSpread } = salt;
  const doses = Math.max(0, lb / doseLb - 0.5);
  const dosesVariance = (deviationLb / doseLb) ** 2 + doses * doseSpread ** 2 + 1 / 12;
  const gallons = (untilNextGallons + doses * cycleGallons) / pace;
  const variance =
    ahead.deviation(days) ** 2 + dosesVariance * (cycleGallons / pace) ** 2 + (gallons * paceSpread) ** 2;
  const off = (ahead.mean(days) - gallons) / Math.sqrt(variance);
  return Math.abs(off) < CERTAIN_DEVIATIONS ? null : off > 0 ? 1 : 0;
}

/** The probability of reaching it, without asking where that is certain: most numbers of doses are far off. */
function reaches(ahead: UseAhead, days: number, gallons: number): number {
  const off = (ahead.mean(days) - gallons) / ahead.deviation(days);
  if (ahead.seldomAway(days) && Math.abs(off) > CERTAIN_DEVIATIONS) return off > 0 ? 1 : 0;
  return ahead.reaches(days, gallons);
}

/** The first day from `from` on by which it has run out with probability `p`. */
function firstDay(ahead: UseAhead, salt: SaltAhead, p: number, from: number): number | null {
  const isBy = (day: number) => within(ahead, salt, day) >= p;
  let low = from - 1;
  let high = from;
  for (let stride = 1; !isBy(high); stride *= 2) {
    if (high === HORIZON_DAYS) return null;
    low = high;
    high = Math.min(high + stride, HORIZON_DAYS);
  }
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (isBy(middle)) high = middle;
    else low = middle;
  }
  return high;
}
