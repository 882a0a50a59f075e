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
/** Daily wandering of the level, as a share of the spread: the gain settles at about 0.06. */
const DRIFT = 0.004;
/** Beyond this variance a level is as good as unknown (between homes it is about 0.4). */
const LEVEL_VARIANCE_MAX = 0.4;
/** A day counts for no more than this many standard deviations above its expected use. */
const OUTLIER_DEVIATIONS = 2.5;
const SPREAD_MAX = 1.2;
/** Gain of the strain, and how much of it is taken for chance: about two standard deviations of it. */
const STRAIN_GAIN = 0.15;
const STRAIN_BY_CHANCE = 0.5;
/** Variance of the strain where the deviations are independent of each other. */
const STRAIN_VARIANCE = STRAIN_GAIN / (2 - STRAIN_GAIN);
/** The variance ratio: its bounds, what one day may say, and its memory. From the homes of fixtures/, rounded. */
const RATIO = { least: 0.3, most: 3, mostAtOnce: 9, memoryDays: 90 } as const;
/** Days after which half of the variance ratio shows in a sum. Likewise. */
const TOGETHER_DAYS = 4;
/** Older days fade: memories in days and weeks. */
const SPREAD_MEMORY_DAYS = 60;
const WEEKDAY_MEMORY_WEEKS = 40;
const REGIME_MEMORY_DAYS = 180;
const AWAY_GAIN = 0.1;
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
/** After an odd day comes a less certain one: how much of its square, in variances and up to so many, goes on. Likewise. */
const UNREST = 0.1;
const UNREST_MOST = 6;
/** Chances are kept from certainty. */
const CHANCE = { least: 0.001, most: 0.98 } as const;
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
  const day = weekdayOf(date);
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
  const lastShare = expected > 0 ? gallons / expected : null;
  const drifted = driftedVariance(household, household.levelVariance);

  if (isAway) {
    const { awayUse, awayDry } = household;
    return {
      level: household.level,
      levelVariance: drifted,
      spread: household.spread,
      spreadDays: household.spreadDays,
      strain: household.strain,
      varianceRatio: household.varianceRatio,
      weekday: household.weekday,
      weekdayWeeks: household.weekdayWeeks,
      away: 1,
      awayDays: away > 0.5 ? household.awayDays + 1 : 1,
      lastShare,
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
    varianceRatio: learnRatio(household.varianceRatio, strain),
    weekday: shifted(household.weekday, -step / 7, day, step),
    weekdayWeeks,
    away: 0,
    awayDays: 0,
    lastShare,
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
    levelVariance: driftedVariance(household, household.levelVariance),
    away: awayNext(household, weekdayOf(date)),
    awayDays: household.away > 0.5 ? household.awayDays + 1 : 1,
    lastShare: null,
  };
}

/**
 * Mean use in gallons to expect on `date`, the day after the last one folded in: what may stand in a missing day's
 * place in a sum (never in `observe`).
 */
export function expectedUse(household: Household, date: LocalDate): number {
  const day = weekdayOf(date);
  const away = awayNext(household, day);
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
  return at(returning, day) * Math.max((STAY_DAYS + 1) / (STAY_DAYS + Math.max(awayDays, 1)), LEAST_RETURN);
}

/** The spread of the next day if it is a home day. What the last day was like tells of the next alone. */
export function nextSpread({ spread, away, lastShare }: Household): number {
  if (away > 0.5 || lastShare === null) return spread;
  const square = Math.min((lastShare - 1) ** 2 / spread, UNREST_MOST);
  return spread * (1 + UNREST * (square - 1));
}

/** Variance of the belief about the level (or about any later day's, given its own) a day further on. */
export function driftedVariance({ spread, varianceRatio }: Household, levelVariance: number): number {
  return Math.min(levelVariance + DRIFT * varianceRatio * spread, LEVEL_VARIANCE_MAX);
}

/** By how much the variance of `days` days of use together exceeds that of as many independent ones. */
export function togetherFactor({ varianceRatio }: Household, days: number): number {
  return 1 + ((varianceRatio - 1) * (days - 1)) / (days - 1 + TOGETHER_DAYS);
}

/** The strain is a mean of deviations, so its square tells how far they come together. */
function learnRatio(ratio: number, strain: number): number {
  const square = Math.min((strain * strain) / STRAIN_VARIANCE, RATIO.mostAtOnce);
  const next = ratio + (square - ratio) / RATIO.memoryDays;
  return Math.min(Math.max(next, RATIO.least), RATIO.most);
}

/**
 * One more outcome (0 or 1) of certainty `weight` for the rates of the week, of which `days` such days have told.
 * All weekdays learn from it as one would from a whole record, the weekday itself again as from its own.
 */
function learnRate(
  rates: readonly number[],
  day: number,
  { outcome, chance, weight }: { outcome: number; chance: number; weight: number },
  days: number,
) {
  if (weight === 0) return rates;
  const error = weight * (outcome - chance);
  const shared = error / days;
  const own = error / (WEEKDAY_REGIME_DAYS + days / 7);
  return rates.map((each, index) =>
    Math.min(Math.max(each + shared + (index === day ? own : 0), CHANCE.least), CHANCE.most),
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
