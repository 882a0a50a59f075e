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
  const next = copyOf(household);
  learnRegimes(next, household, day, isAway);
  next.lastShare = expected > 0 ? short(Math.min(gallons / expected, LAST_SHARE_MOST)) : null;
  const drifted = driftedVariance(household, household.levelVariance);
  if (isAway) {
    next.levelVariance = short(drifted);
    next.away = 1;
    next.awayDays = household.away > 0.5 ? household.awayDays + 1 : 1;
    learnAwayUse(next, gallons);
  } else {
    next.away = 0;
    next.awayDays = 0;
    learnHomeDay(next, day, gallons / expected - 1, drifted);
  }
  return next;
}

/** A household to be written to, as long as nobody else has it. */
type Draft = { -readonly [Field in keyof Household]: Household[Field] };

/** Named one by one, in the order of the interface: a spread costs twenty times as much, and so all have one shape. */
function copyOf(household: Household): Draft {
  return {
    holidays: household.holidays,
    level: household.level,
    levelVariance: household.levelVariance,
    spread: household.spread,
    spreadDays: household.spreadDays,
    strain: household.strain,
    varianceRatio: household.varianceRatio,
    weekday: household.weekday,
    weekdayWeeks: household.weekdayWeeks,
    away: household.away,
    awayDays: household.awayDays,
    lastShare: household.lastShare,
    awayUse: household.awayUse,
    awayDry: household.awayDry,
    leaving: household.leaving,
    leavingDays: household.leavingDays,
    returning: household.returning,
    returningDays: household.returningDays,
  };
}

/** Whether the household has left or returned, by what it was before, if that is known. */
function learnRegimes(next: Draft, before: Household, day: number, isAway: boolean) {
  const { away } = before;
  const leavingDays = Math.min(before.leavingDays + 1 - away, REGIME_MEMORY_DAYS);
  const returningDays = Math.min(before.returningDays + away, REGIME_MEMORY_DAYS);
  if (away < 1) {
    const error = (1 - away) * ((isAway ? 1 : 0) - leavingAfter(before, day));
    next.leaving = learnRate(before.leaving, day, error, leavingDays);
  }
  if (away > 0) {
    const error = away * ((isAway ? 0 : 1) - returningAfter(before, before.awayDays, day));
    next.returning = learnRate(before.returning, day, error, returningDays);
  }
  next.leavingDays = short(leavingDays);
  next.returningDays = short(returningDays);
}

function learnAwayUse(next: Draft, gallons: number) {
  const { awayUse, awayDry } = next;
  if (gallons > 0) next.awayUse = short(awayUse === 0 ? gallons : awayUse + AWAY_GAIN * (gallons - awayUse));
  next.awayDry = short(awayDry + AWAY_GAIN * ((gallons === 0 ? 1 : 0) - awayDry));
}

/** A day at home, that was so much more than expected, as a share; the level's variance by then. */
function learnHomeDay(next: Draft, day: number, more: number, drifted: number) {
  const { spread } = next;
  const deviation = Math.sqrt(drifted + spread);
  const surprise = Math.min(more, OUTLIER_DEVIATIONS * deviation);
  const strain = next.strain + STRAIN_GAIN * (surprise / deviation - next.strain);
  // Days that keep missing on one side say that the level has shifted: believe it less, so that it follows.
  const excess = Math.max(Math.abs(strain) - STRAIN_BY_CHANCE, 0) * deviation;
  const levelVariance = Math.min(drifted + excess * excess, LEVEL_VARIANCE_MAX);
  const gain = levelVariance / (levelVariance + spread);

  const spreadDays = Math.min(next.spreadDays + 1, SPREAD_MEMORY_DAYS);
  // Of the squared surprise, the part that the level's own uncertainty does not explain.
  const noise = surprise * surprise * (1 - gain);
  const weekdayWeeks = Math.min(next.weekdayWeeks + 1 / 7, WEEKDAY_MEMORY_WEEKS);
  const step = (at(next.weekday, day) * surprise * (1 - gain)) / weekdayWeeks;

  next.level = Math.max(LEAST_LEVEL, short(next.level * (1 + gain * surprise)));
  next.levelVariance = short((1 - gain) * levelVariance);
  next.spread = Math.max(LEAST_SPREAD, short(Math.min(spread + (noise - spread) / spreadDays, SPREAD_MAX)));
  next.spreadDays = spreadDays;
  next.strain = short(strain);
  next.varianceRatio = learnRatio(next.varianceRatio, strain);
  next.weekday = shifted(next.weekday, -step / 7, day, step);
  next.weekdayWeeks = short(weekdayWeeks);
}

/** Lets one day pass of which nothing is known: missing is missing, not zero. */
export function skip(household: Household, date: LocalDate): Household {
  const next = copyOf(household);
  next.levelVariance = short(driftedVariance(household, household.levelVariance));
  next.away = short(awayNext(household, dayOf(household, date)));
  next.awayDays = household.away > 0.5 ? household.awayDays + 1 : 1;
  next.lastShare = null;
  return next;
}

/** An absent household as it will be once it is back. */
export function onceBack(household: Household): Household {
  const next = copyOf(household);
  next.away = 0;
  next.awayDays = 0;
  next.lastShare = null;
  return next;
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
