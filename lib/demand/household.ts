import { type LocalDate, weekdayOf } from '../../shared/time/localDate.ts';
import { type FleetPrior, PUBLISHED_PRIOR } from './prior.ts';

/**
 * What is known of one household's water use: plain data, constant in size, a fold over its days (one call of
 * `observe` or `skip` a day, in order). The model is told in docs/decisions/0003-demand-model.md.
 * Arrays run over the days of the week, Sunday first.
 */
export interface Household {
  /** Mean use of a home day, the weekday taken out, gallons. */
  readonly level: number;
  /** Variance of the belief about `level`, relative to its square. */
  readonly levelVariance: number;
  /** Variance of a home day about its expected use, relative to the square of that; the days behind it. */
  readonly spread: number;
  readonly spreadDays: number;
  /** Mean of the latest home days' deviations in standard deviations: far from 0 when the level has shifted. */
  readonly strain: number;
  /** Use of each weekday over the mean; the weeks behind it. */
  readonly weekday: readonly number[];
  readonly weekdayWeeks: number;
  /** Probability that the last day was an away day: 0 or 1 where it was measured. */
  readonly away: number;
  /** Mean use of the away days that drew anything, gallons, and the share (0 to 1) of them that drew nothing. */
  readonly awayUse: number;
  readonly awayDry: number;
  /** Probability that a home day is followed by an away day, by the weekday of the latter; the days behind it. */
  readonly leaving: readonly number[];
  readonly leavingDays: number;
  /** Probability that an away day is followed by a home day, likewise. */
  readonly returning: readonly number[];
  readonly returningDays: number;
}

/**
 * A day below this share of what is expected at home counts as away. A fifth, not zero: absent homes drip and
 * leak, and a home day that low is rare (0.3 % of a gamma with coefficient of variation 0.5).
 */
const AWAY_SHARE = 0.2;
/** Daily wandering of the level, as a share of the spread: the gain settles at about 0.085. */
const DRIFT = 0.008;
/** Beyond this variance a level is as good as unknown (between homes it is about 0.4). */
const LEVEL_VARIANCE_MAX = 0.4;
/** A day counts for no more than this many standard deviations above its expected use. */
const OUTLIER_DEVIATIONS = 2.5;
const SPREAD_MAX = 1.2;
/** Gain of the strain, and how much of it is taken for chance: about two standard deviations of it. */
const STRAIN_GAIN = 0.15;
const STRAIN_BY_CHANCE = 0.5;
/** Older days fade: memories in days and weeks. */
const SPREAD_MEMORY_DAYS = 60;
const WEEKDAY_MEMORY_WEEKS = 40;
const REGIME_MEMORY_DAYS = 180;
const AWAY_GAIN = 0.1;
/** Visits to a weekday that its own leaving and returning must make before they outweigh those of the whole week. */
const WEEKDAY_REGIME_DAYS = 10;

/** Told when a household is given a use that cannot be (`impossible-use`), or a score is not defined (`undefined-score`). */
export class DemandError extends Error {
  readonly code: 'impossible-use' | 'undefined-score';
  constructor(code: DemandError['code'], message: string) {
    super(message);
    this.name = 'DemandError';
    this.code = code;
  }
}

/** A household of which nothing is known but the fleet that it belongs to. */
export function newHousehold(prior: FleetPrior = PUBLISHED_PRIOR): Household {
  return {
    level: prior.level,
    levelVariance: prior.levelVariance,
    spread: prior.spread,
    spreadDays: prior.spreadDays,
    strain: 0,
    weekday: prior.weekday,
    weekdayWeeks: prior.weekdayWeeks,
    away: prior.leaving / (prior.leaving + prior.returning),
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
  const day = weekdayOf(date);
  const factor = at(household.weekday, day);
  const expected = household.level * factor;
  const isAway = gallons < AWAY_SHARE * expected;

  const { away } = household;
  const leavingDays = Math.min(household.leavingDays + 1 - away, REGIME_MEMORY_DAYS);
  const returningDays = Math.min(household.returningDays + away, REGIME_MEMORY_DAYS);
  const leaving = learnRate(household.leaving, day, isAway ? 1 : 0, 1 - away, leavingDays);
  const returning = learnRate(household.returning, day, isAway ? 0 : 1, away, returningDays);
  const drifted = driftedVariance(household.spread, household.levelVariance);

  if (isAway) {
    const { awayUse, awayDry } = household;
    return {
      level: household.level,
      levelVariance: drifted,
      spread: household.spread,
      spreadDays: household.spreadDays,
      strain: household.strain,
      weekday: household.weekday,
      weekdayWeeks: household.weekdayWeeks,
      away: 1,
      awayUse: gallons === 0 ? awayUse : awayUse === 0 ? gallons : awayUse + AWAY_GAIN * (gallons - awayUse),
      awayDry: awayDry + AWAY_GAIN * ((gallons === 0 ? 1 : 0) - awayDry),
      leaving,
      leavingDays,
      returning,
      returningDays,
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
    level: household.level * (1 + gain * surprise),
    levelVariance: (1 - gain) * levelVariance,
    spread: Math.min(spread + (noise - spread) / spreadDays, SPREAD_MAX),
    spreadDays,
    strain,
    weekday: shifted(household.weekday, -step / 7, day, step),
    weekdayWeeks,
    away: 0,
    awayUse: household.awayUse,
    awayDry: household.awayDry,
    leaving,
    leavingDays,
    returning,
    returningDays,
  };
}

/** Lets one day pass of which nothing is known: missing is missing, not zero. */
export function skip(household: Household, date: LocalDate): Household {
  return {
    ...household,
    levelVariance: driftedVariance(household.spread, household.levelVariance),
    away: awayNext(household, household.away, weekdayOf(date)),
  };
}

/**
 * Mean use in gallons to expect on `date`, the day after the last one folded in: what may stand in a missing day's
 * place in a sum (never in `observe`).
 */
export function expectedUse(household: Household, date: LocalDate): number {
  const day = weekdayOf(date);
  const away = awayNext(household, household.away, day);
  return (1 - away) * homeUse(household, day) + away * awayUse(household);
}

/** Mean use of a home day on a weekday, gallons. */
export function homeUse(household: Household, day: number): number {
  return household.level * at(household.weekday, day);
}

/** Mean use of an away day, gallons. */
export function awayUse(household: Household): number {
  return (1 - household.awayDry) * household.awayUse;
}

/** Probability of an away day on a weekday, after a day that was away with probability `away`. */
export function awayNext(household: Household, away: number, day: number): number {
  return away * (1 - at(household.returning, day)) + (1 - away) * at(household.leaving, day);
}

/** Variance of the belief about the level (or about any later day's, given its own) a day further on. */
export function driftedVariance(spread: number, levelVariance: number): number {
  return Math.min(levelVariance + DRIFT * spread, LEVEL_VARIANCE_MAX);
}

/**
 * One more outcome (0 or 1) of certainty `weight` for the rates of the week, of which `days` such days have told.
 * All weekdays learn from it as one would from a whole record, the weekday itself again as from its own.
 */
function learnRate(rates: readonly number[], day: number, outcome: number, weight: number, days: number) {
  if (weight === 0) return rates;
  const error = weight * (outcome - at(rates, day));
  const shared = error / days;
  const own = error / (WEEKDAY_REGIME_DAYS + days / 7);
  return rates.map((each, index) =>
    Math.min(Math.max(each + shared + (index === day ? own : 0), 0.001), 0.98),
  );
}

function everyDay(rate: number): number[] {
  return [rate, rate, rate, rate, rate, rate, rate];
}

/** A week with something added to all of its days, and more to one. */
function shifted(week: readonly number[], all: number, day: number, more: number): number[] {
  const next = week.slice();
  for (let each = 0; each < 7; each++) next[each] = at(week, each) + all;
  next[day] = at(next, day) + more;
  return next;
}

function at(week: readonly number[], day: number): number {
  return week[day] as number;
}
