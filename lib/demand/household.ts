import { type LocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import { type FleetPrior, PUBLISHED_PRIOR } from './prior.ts';
import { awayNext, learnRate, leavingAfter, returningAfter } from './regime.ts';
import { driftedVariance, LEVEL_VARIANCE_MAX, learnRatio, STRAIN_GAIN } from './scatter.ts';
import { short } from './short.ts';

/**
 * What is known of one household's water use: plain data, constant in size, a fold over its days (one call of
 * `observe` or `skip` a day, in order). The model is told in docs/decisions/0003-demand-model.md.
 * Arrays run over the days of the week, Sunday first.
 */
export interface Household {
  /** Dates that are as a Sunday to it. */
  readonly holidays: readonly LocalDate[];
  /** Mean use of a home day, the weekday taken out, gallons. */
  readonly level: number;
  /** Variance of the belief about `level`, relative to its square. */
  readonly levelVariance: number;
  /** Variance of a home day about its expected use, relative to the square of that; the days behind it. */
  readonly spread: number;
  readonly spreadDays: number;
  /** Mean of the latest home days' deviations in standard deviations: far from 0 when the level has shifted. */
  readonly strain: number;
  /** Variance of the sums of this home's deviations over that of independent ones: above 1 where odd days come together. */
  readonly varianceRatio: number;
  /** Use of each weekday over the mean; the weeks behind it. */
  readonly weekday: readonly number[];
  readonly weekdayWeeks: number;
  /** Probability that the last day was an away day: 0 or 1 where it was measured. */
  readonly away: number;
  /** Away days in a row up to the last day, if that was one; 0 at home. */
  readonly awayDays: number;
  /** Use of the last day over what was expected of it at home; null where it is not known. */
  readonly lastShare: number | null;
  /** Mean use of the away days that drew anything, gallons, and the share (0 to 1) of them that drew nothing. */
  readonly awayUse: number;
  readonly awayDry: number;
  /** Probability that a home day is followed by an away day, by the weekday of the latter; the days behind it. */
  readonly leaving: readonly number[];
  readonly leavingDays: number;
  /** Probability that the first day away is followed by a home day, likewise; later ones: see `returningAfter`. */
  readonly returning: readonly number[];
  readonly returningDays: number;
}

/**
 * A day below this share of what is expected at home counts as away. A fifth, not zero: absent homes drip and
 * leak, and a home day that low is rare (0.3 % of a gamma with coefficient of variation 0.5).
 */
const AWAY_SHARE = 0.2;
/** A day counts for no more than this many standard deviations above its expected use. */
const OUTLIER_DEVIATIONS = 2.5;
const SPREAD_MAX = 1.2;
/** A home that always draws the same, or next to nothing, still has a spread and a level. */
const LEAST_SPREAD = 1e-4;
const LEAST_LEVEL = 1e-4;
/** A day of so many times the usual is as odd as can be. */
const LAST_SHARE_MOST = 20;
/** How much of the strain is taken for chance: about two standard deviations of it. */
const STRAIN_BY_CHANCE = 0.5;
/** Older days fade: memories in days and weeks. */
const SPREAD_MEMORY_DAYS = 60;
const WEEKDAY_MEMORY_WEEKS = 40;
const REGIME_MEMORY_DAYS = 180;
const AWAY_GAIN = 0.1;
/** Told when a household is given a use that cannot be (`impossible-use`), or a score is not defined (`undefined-score`). */
export class DemandError extends Error {
  readonly code: 'impossible-use' | 'undefined-score';
  constructor(code: DemandError['code'], message: string) {
    super(message);
    this.name = 'DemandError';
    this.code = code;
  }
}

/**
 * A household of which nothing is known but the fleet that it belongs to.
 *
 * @param holidays dates on which it lives as on a Sunday
 */
export function newHousehold(
  prior: FleetPrior = PUBLISHED_PRIOR,
  holidays: readonly LocalDate[] = [],
): Household {
  return {
    holidays,
    level: prior.level,
    levelVariance: prior.levelVariance,
    spread: prior.spread,
    spreadDays: prior.spreadDays,
    strain: 0,
    varianceRatio: 1,
    weekday: prior.weekday,
    weekdayWeeks: prior.weekdayWeeks,
    away: prior.leaving / (prior.leaving + prior.returning),
    awayDays: 1,
    lastShare: null,
    awayUse: 0,
    awayDry: 0.5,
    leaving: everyDay(prior.leaving),
    leavingDays: prior.leavingDays,
    returning: everyDay(prior.returning),
    returningDays: prior.returningDays,
  };
}

/**
 * Folds in one day's measured use in gallons (0 is a day that drew nothing; for a missing day see `skip`).
 * @throws DemandError `impossible-use` for a use that is negative or not finite.
 */
export function observe(household: Household, date: LocalDate, gallons: number): Household {
  if (!(gallons >= 0 && gallons < Number.POSITIVE_INFINITY)) {
    throw new DemandError('impossible-use', `A day's use must be 0 gallons or more, not ${gallons}.`);
  }
  const day = dayOf(household, date);
  const factor = at(household.weekday, day);
  const expected = household.level * factor;
  const isAway = gallons < AWAY_SHARE * expected;

  const { away } = household;
  const leavingDays = Math.min(household.leavingDays + 1 - away, REGIME_MEMORY_DAYS);
  const returningDays = Math.min(household.returningDays + away, REGIME_MEMORY_DAYS);
  const left = { outcome: isAway ? 1 : 0, chance: leavingAfter(household, day), weight: 1 - away };
  const returned = {
    outcome: isAway ? 0 : 1,
    chance: returningAfter(household, household.awayDays, day),
    weight: away,
  };
  const leaving = learnRate(household.leaving, day, left, leavingDays);
  const returning = learnRate(household.returning, day, returned, returningDays);
  const lastShare = expected > 0 ? short(Math.min(gallons / expected, LAST_SHARE_MOST)) : null;
  const drifted = driftedVariance(household, household.levelVariance);

  if (isAway) {
    const { awayUse, awayDry } = household;
    const use = awayUse === 0 ? gallons : awayUse + AWAY_GAIN * (gallons - awayUse);
    return {
      ...household,
      levelVariance: short(drifted),
      away: 1,
      awayDays: away > 0.5 ? household.awayDays + 1 : 1,
      lastShare,
      awayUse: gallons === 0 ? awayUse : short(use),
      awayDry: short(awayDry + AWAY_GAIN * ((gallons === 0 ? 1 : 0) - awayDry)),
      leaving,
      leavingDays: short(leavingDays),
      returning,
      returningDays: short(returningDays),
    };
  }

  const { spread } = household;
  const deviation = Math.sqrt(drifted + spread);
  const surprise = Math.min(gallons / expected - 1, OUTLIER_DEVIATIONS * deviation);
  const strain = household.strain + STRAIN_GAIN * (surprise / deviation - household.strain);
  // Days that keep missing on one side say that the level has shifted: believe it less, so that it follows.
  const excess = Math.max(Math.abs(strain) - STRAIN_BY_CHANCE, 0);
  const levelVariance = Math.min(drifted + (excess * deviation) ** 2, LEVEL_VARIANCE_MAX);
  const gain = levelVariance / (levelVariance + spread);

  const spreadDays = Math.min(household.spreadDays + 1, SPREAD_MEMORY_DAYS);
  // Of the squared surprise, the part that the level's own uncertainty does not explain.
  const noise = surprise * surprise * (1 - gain);
  const weekdayWeeks = Math.min(household.weekdayWeeks + 1 / 7, WEEKDAY_MEMORY_WEEKS);
  const step = (factor * surprise * (1 - gain)) / weekdayWeeks;

  return {
    holidays: household.holidays,
    level: Math.max(LEAST_LEVEL, short(household.level * (1 + gain * surprise))),
    levelVariance: short((1 - gain) * levelVariance),
    spread: Math.max(LEAST_SPREAD, short(Math.min(spread + (noise - spread) / spreadDays, SPREAD_MAX))),
    spreadDays,
    strain: short(strain),
    varianceRatio: learnRatio(household.varianceRatio, strain),
    weekday: shifted(household.weekday, -step / 7, day, step),
    weekdayWeeks: short(weekdayWeeks),
    away: 0,
    awayDays: 0,
    lastShare,
    awayUse: household.awayUse,
    awayDry: household.awayDry,
    leaving,
    leavingDays: short(leavingDays),
    returning,
    returningDays: short(returningDays),
  };
}

/** Lets one day pass of which nothing is known: missing is missing, not zero. */
export function skip(household: Household, date: LocalDate): Household {
  return {
    ...household,
    levelVariance: short(driftedVariance(household, household.levelVariance)),
    away: short(awayNext(household, dayOf(household, date))),
    awayDays: household.away > 0.5 ? household.awayDays + 1 : 1,
    lastShare: null,
  };
}

/**
 * Mean use in gallons to expect on `date`, the day after the last one folded in: what may stand in a missing day's
 * place in a sum (never in `observe`).
 */
export function expectedUse(household: Household, date: LocalDate): number {
  const day = dayOf(household, date);
  const away = awayNext(household, day);
  return (1 - away) * homeUse(household, day) + away * awayUse(household);
}

/** The weekday that a date is to a household, Sunday 0: its own, or a Sunday's on a holiday. */
export function dayOf({ holidays }: Household, date: LocalDate): number {
  return holidays.length > 0 && holidays.includes(date) ? 0 : weekdayOf(date);
}

/** Mean use of a home day on a weekday, gallons. */
export function homeUse(household: Household, day: number): number {
  return household.level * at(household.weekday, day);
}

/** Mean use of an away day, gallons. */
export function awayUse(household: Household): number {
  return (1 - household.awayDry) * household.awayUse;
}

function everyDay(rate: number): number[] {
  return [rate, rate, rate, rate, rate, rate, rate];
}

/** A week with something added to all of its days, and more to one. */
function shifted(week: readonly number[], all: number, day: number, more: number): number[] {
  const next = week.slice();
  for (let each = 0; each < 7; each++) next[each] = short(at(week, each) + all + (each === day ? more : 0));
  return next;
}

function at(week: readonly number[], day: number): number {
  return week[day] as number;
}
