import type { LocalDate } from '../../shared/time/localDate.ts';
import { normalProbability, PLACE_WIDTH, place, placedCdf } from './gamma.ts';
import { COUNTED_DAYS, HomeDays } from './homeDays.ts';
import { awayUse, dayOf, type Household, newHousehold } from './household.ts';
import { leavingAfter, returningAfter } from './regime.ts';
import { driftedVariance, nextSpread, togetherFactor } from './scatter.ts';

/** How far ahead one may look. */
export const HORIZON_DAYS = 365;

/** A way of using water below this probability is left out. */
const NEGLIGIBLE = 0.005;
/** So is a number of days at home below this one. */
const LEAST_COUNT = 0.001;

// What is known of the sum of the next n days is row n of a table, one column each:
/** Mean and standard deviation, gallons; mean of the last of the days if it is a home day. */
const MEAN = 0;
const DEVIATION = 1;
const HOME_DAY = 2;
/** Probability that all the days are away, or all at home; that the last one is away. */
const ALL_AWAY = 3;
const ALL_HOME = 4;
const AWAY = 5;
/** Variance of the belief about the last day's level. */
const LEVEL_VARIANCE = 6;
/** For a level of 1: mean; variance if the level were known; variance from the level; covariance with later levels. */
const PART = 7;
const SCATTER = 8;
const WANDER = 9;
const DRAG = 10;
/** Covariance with being at home on the last day. */
const PULL = 11;
/** PART to DRAG of the same days, all at home. */
const HOME_PART = 12;
const HOME_SCATTER = 13;
const HOME_WANDER = 14;
const HOME_DRAG = 15;
/** Mean days that those have been away who left on a later day than the first, 0 without any. */
const LATER_DAYS = 16;
/** Mean number of days at home. */
const HOME_DAYS = 17;
/** Places of the two gammas: all at home, and some of both. Not yet found where SHAPED is 0. */
const SHAPED = 18;
const HOME = 19;
const BOTH = HOME + PLACE_WIDTH;
const WIDTH = BOTH + PLACE_WIDTH;

/**
 * The use of the next n days together, for every n. Mean and variance are those of the model: two regimes that
 * persist, weekdays, a day-to-day spread whose odd days may come together, and a level that is not known exactly and wanders meanwhile. A sum is a
 * mixture over the number of its days at home, each taken as a gamma; beyond COUNTED_DAYS, of all, none and some. Each row is worked out from the one before, when it is first asked for.
 */
class UseAhead {
  household = newHousehold();
  lastCounted = 0;
  private readonly table = new Float64Array((HORIZON_DAYS + 1) * WIDTH);
  /** How many households it has stood for: tells whether what was worked out from it still holds. */
  begun = 0;
  private days = 0;
  // The household as the loop over the days reads it: factor and leaving by weekday, and what follows.
  private readonly week = new Float64Array(14);
  private level = 0;
  private spread = 0;
  private trifle = 0;
  private readonly homeDays = new HomeDays();
  private readonly some = new Float64Array(PLACE_WIDTH);

  /** Starts over for a household, after `lastCounted`. */
  begin(household: Household, lastCounted: LocalDate): void {
    this.household = household;
    this.lastCounted = lastCounted;
    this.begun += 1;
    this.days = 0;
    for (let day = 0; day < 7; day++) {
      this.week[day] = household.weekday[day] as number;
      this.week[7 + day] = household.leaving[day] as number;
    }
    this.level = household.level;
    this.spread = household.spread;
    this.trifle = awayUse(household);
    this.homeDays.begin(household.away);
    const { table } = this;
    table.fill(0, 0, WIDTH);
    table[ALL_AWAY] = household.away;
    table[ALL_HOME] = 1 - household.away;
    table[AWAY] = household.away;
    table[LEVEL_VARIANCE] = household.levelVariance;
  }

  /** Mean use of the next `days` days (0 to the horizon), gallons. */
  mean(days: number): number {
    return this.table[this.row(days) + MEAN] as number;
  }

  /** Standard deviation of the use of the next `days` days, gallons. */
  deviation(days: number): number {
    return this.table[this.row(days) + DEVIATION] as number;
  }

  /** Mean use of the `day`-th day from now (1 or more) if it is a home day, gallons. */
  homeDay(day: number): number {
    return this.table[this.row(day) + HOME_DAY] as number;
  }

  /** Whether the next `days` days are hardly ever all away, so that their sum has one hump. */
  seldomAway(days: number): boolean {
    return (this.table[this.row(days) + ALL_AWAY] as number) < 0.06;
  }

  /** Probability that the next `days` days use `gallons` or more. */
  reaches(days: number, gallons: number): number {
    if (gallons <= 0) return 1;
    if (days === 0) return 0;
    const at = this.row(days);
    const { table } = this;
    if (table[at + SHAPED] === 0) this.shape(at, days);
    const root = Math.sqrt(gallons);
    const allAway = table[at + ALL_AWAY] as number;
    const allHome = table[at + ALL_HOME] as number;
    const both = 1 - allAway - allHome;
    let reaching = allHome * (1 - placedCdf(table, at + HOME, root));
    if (both > NEGLIGIBLE) {
      reaching +=
        days <= COUNTED_DAYS
          ? this.someReach(at, days, root)
          : both * (1 - placedCdf(table, at + BOTH, root));
    }
    // Away throughout: nothing at all, or else an exponentially distributed trifle.
    const { awayDry, awayUse } = this.household;
    if (allAway > NEGLIGIBLE && awayUse > 0) {
      reaching += allAway * (1 - awayDry) * Math.exp(-gallons / (days * awayUse));
    }
    return reaching;
  }

  /** Probability that some of the days are at home, not all, and reach what `root` is the square root of. */
  private someReach(at: number, days: number, root: number): number {
    const { table, level, trifle, some, homeDays } = this;
    const aDay = level * ((table[at + PART] as number) / (table[at + HOME_DAYS] as number)) + trifle;
    const scatter =
      (level * level * togetherFactor(this.household, days) * (table[at + HOME_SCATTER] as number)) / days;
    const wander = (level * level * (table[at + HOME_WANDER] as number)) / (days * days);
    let reaching = 0;
    for (let k = homeDays.fewestOf(days); k < days; k++) {
      const probability = homeDays.probability(days, k);
      if (probability < LEAST_COUNT) continue;
      const mean = k * aDay + (days - k) * trifle;
      place(some, 0, mean, Math.sqrt(k * (scatter + k * wander)) / mean);
      reaching += probability * (1 - placedCdf(some, 0, root));
    }
    return reaching;
  }

  /** The same within a few hundredths, at a fraction of the cost: after some days at home a sum is near normal. */
  roughlyReaches(days: number, gallons: number): number {
    if (days < 4 || !this.seldomAway(days)) return this.reaches(days, gallons);
    return normalProbability((this.mean(days) - gallons) / this.deviation(days));
  }

  /** What is left of mean and variance when the other ways are taken out goes to the gamma of both. */
  private shape(at: number, days: number): void {
    const { table, level } = this;
    const allAway = table[at + ALL_AWAY] as number;
    const allHome = table[at + ALL_HOME] as number;
    const both = 1 - allAway - allHome;
    const home = level * (table[at + HOME_PART] as number);
    const homeVariance =
      level *
      level *
      ((table[at + HOME_SCATTER] as number) * togetherFactor(this.household, days) +
        (table[at + HOME_WANDER] as number));
    place(table, at + HOME, home, Math.sqrt(homeVariance) / home);
    table[at + SHAPED] = 1;
    if (both <= NEGLIGIBLE || days <= COUNTED_DAYS) return;
    const mean = table[at + MEAN] as number;
    const deviation = table[at + DEVIATION] as number;
    const away = days * this.trifle;
    const rest = (mean - allAway * away - allHome * home) / both;
    const square =
      deviation * deviation + mean * mean - allAway * away * away - allHome * (homeVariance + home * home);
    place(table, at + BOTH, rest, Math.sqrt(Math.max(square / both / (rest * rest) - 1, 1e-6)));
  }

  private row(days: number): number {
    while (this.days < days) this.advance();
    return days * WIDTH;
  }

  private advance(): void {
    const { table, week, level, spread, trifle } = this;
    const { household } = this;
    const weekday = dayOf(household, this.lastCounted + this.days + 1);
    const factor = week[weekday] as number;
    const was = this.days * WIDTH;
    const at = was + WIDTH;
    const isFirst = was === 0;
    this.days += 1;

    const leaving = isFirst ? leavingAfter(household, weekday) : (week[7 + weekday] as number);
    const awayBefore = table[was + AWAY] as number;
    // Those who are away since the last known day or the first to come, and those who left after that.
    const firstBefore = table[was + ALL_AWAY] as number;
    const laterBefore = awayBefore - firstBefore;
    const laterDays = table[was + LATER_DAYS] as number;
    const firstDays = this.days - 1 + (household.away > 0.5 ? household.awayDays : 0);
    const firstReturning = returningAfter(household, firstDays, weekday);
    const returning = returningAfter(household, laterDays, weekday);
    const leavers = (1 - awayBefore) * leaving;
    const laterStay = isFirst ? 0 : laterBefore * (1 - returning);
    const away = firstBefore * (1 - firstReturning) + laterStay + leavers;
    if (this.days <= COUNTED_DAYS) this.homeDays.advance(leaving, firstReturning, returning);
    const levelVariance = driftedVariance(household, table[was + LEVEL_VARIANCE] as number);
    const noise = (isFirst ? nextSpread(household) : spread) * (1 + levelVariance) * factor * factor;
    // Being at home adds this much over being away.
    const gap = factor - trifle / level;
    const part = (1 - away) * gap;
    // Whoever was away all the while has used nothing: that is how being away goes with the use so far.
    const pull =
      (table[was + PULL] as number) * (1 - leaving - returning) +
      (returning - firstReturning) * firstBefore * (table[was + PART] as number);
    const drag = table[was + DRAG] as number;
    const homeDrag = table[was + HOME_DRAG] as number;
    const parts = (table[was + PART] as number) + part;
    const scatter = (table[was + SCATTER] as number) + (1 - away) * noise + gap * (part * away + 2 * pull);
    const wander = (table[was + WANDER] as number) + part * (part * levelVariance + 2 * drag);

    table[at + MEAN] = level * parts + this.days * trifle;
    table[at + DEVIATION] = level * Math.sqrt(scatter * togetherFactor(household, this.days) + wander);
    table[at + HOME_DAY] = level * factor;
    table[at + ALL_AWAY] = isFirst ? away : firstBefore * (1 - firstReturning);
    table[at + LATER_DAYS] = isFirst ? 0 : (laterStay * (laterDays + 1) + leavers) / (laterStay + leavers);
    table[at + ALL_HOME] = isFirst ? 1 - away : (table[was + ALL_HOME] as number) * (1 - leaving);
    table[at + AWAY] = away;
    table[at + LEVEL_VARIANCE] = levelVariance;
    table[at + PART] = parts;
    table[at + SCATTER] = scatter;
    table[at + WANDER] = wander;
    table[at + DRAG] = drag + part * levelVariance;
    table[at + PULL] = pull + part * away;
    table[at + HOME_DAYS] = (table[was + HOME_DAYS] as number) + 1 - away;
    table[at + HOME_PART] = (table[was + HOME_PART] as number) + factor;
    table[at + HOME_SCATTER] = (table[was + HOME_SCATTER] as number) + noise;
    table[at + HOME_WANDER] =
      (table[was + HOME_WANDER] as number) + factor * (factor * levelVariance + 2 * homeDrag);
    table[at + HOME_DRAG] = homeDrag + factor * levelVariance;
    table[at + SHAPED] = 0;
  }
}

export type { UseAhead };

const workspace = new UseAhead();

/**
 * What lies ahead of a household. One table serves all, a household after the other, as a fleet is forecast:
 * what is returned is good until the next call for another household or date.
 */
export function useAhead(household: Household, lastCounted: LocalDate): UseAhead {
  if (workspace.household !== household || workspace.lastCounted !== lastCounted) {
    workspace.begin(household, lastCounted);
  }
  return workspace;
}
