import type { LocalDate } from '../../shared/time/localDate.ts';
import { normalProbability } from './gamma.ts';
import { GammaMixtures } from './gammaMixtures.ts';
import { COUNTED_DAYS, HomeDays } from './homeDays.ts';
import { awayUse, type Household, newHousehold } from './household.ts';
import { RegimesAhead } from './regimesAhead.ts';
import { driftedVariance, LEVEL_VARIANCE_MAX, nextSpread, togetherFactor } from './scatter.ts';

/** How far ahead one may look. */
export const HORIZON_DAYS = 365;

/** A way of using water below this probability is left out. */
const NEGLIGIBLE = 0.005;
/** So is a number of days at home below this one. */
const LEAST_COUNT = 0.001;

// What is known of the sum of the next n days is row n of a table, one column each, gallons:
/** Its mean, its standard deviation, and the mean of the last of the days if it is a home day. */
const MEAN = 0;
const DEVIATION = 1;
const HOME_DAY = 2;
/** Mean number of days at home. */
const DAYS_AT_HOME = 3;
/** Mean of the same days, all at home; its variance if the level were known; variance from the level. */
const HOME_MEAN = 4;
const HOME_SCATTER = 5;
const HOME_WANDER = 6;
/** The amount that was last asked for, and the probability of reaching it. */
const ASKED = 7;
const ANSWER = 8;
const WIDTH = 9;

/** Rows are worked out so many at a time: whoever asks for a day mostly asks for the next. */
const ROWS_AT_ONCE = 6;
/** As many gammas as all sums may be of: up to COUNTED_DAYS one for each number of days at home, beyond two. */
const MOST_GAMMAS = (COUNTED_DAYS * (COUNTED_DAYS + 1)) / 2 + 2 * (HORIZON_DAYS - COUNTED_DAYS);

// What is carried from one row to the next, all for a level of 1:
/** Variance of the belief about the level on the last of the days. */
const LEVEL_VARIANCE = 0;
/**
 * Mean beyond the trifle of as many away days; variance if the level were known; variance from the level; covariance
 * with later levels; covariance with being at home on the last day.
 */
const PART = 1;
const SCATTER = 2;
const WANDER = 3;
const DRAG = 4;
const PULL = 5;
/** Those of the same days, all at home, the trifle included. */
const HOME_PART = 6;
const ALL_SCATTER = 7;
const ALL_WANDER = 8;
const HOME_DRAG = 9;
/** Mean number of days at home. */
const HOME_DAYS = 10;
const CARRIED = 11;

/**
 * The use of the next n days together, for every n. Mean and variance are those of the model: two regimes that
 * persist, weekdays, a day-to-day spread whose odd days may come together, and a level that is not known exactly and
 * wanders meanwhile. A sum is a mixture over the number of its days at home, each taken as a gamma; beyond COUNTED_DAYS, of
 * all, none and some. Each row is worked out from the one before, when it is first asked for.
 */
class UseAhead {
  household = newHousehold();
  lastCounted = 0;
  private readonly table = new Float64Array((HORIZON_DAYS + 1) * WIDTH);
  private days = 0;
  private readonly carried = new Float64Array(CARRIED);
  private readonly regimes = new RegimesAhead(HORIZON_DAYS);
  private readonly homeDays = new HomeDays();
  /** What the next n days use together unless all are away: where among these; to 0 until it is asked for. */
  private readonly sums = new GammaMixtures(MOST_GAMMAS);
  private readonly sumFrom = new Int32Array(HORIZON_DAYS + 1);
  private readonly sumTo = new Int32Array(HORIZON_DAYS + 1);
  // The household as the loop over the days reads it.
  private readonly week = new Float64Array(7);
  private level = 0;
  private spread = 0;
  private drift = 0;
  private trifle = 0;

  /** Starts over for a household, after `lastCounted`. */
  begin(household: Household, lastCounted: LocalDate): void {
    this.household = household;
    this.lastCounted = lastCounted;
    this.days = 0;
    this.regimes.begin(household, lastCounted);
    this.homeDays.begin(household.away);
    this.carried[LEVEL_VARIANCE] = household.levelVariance;
    for (let each = PART; each < CARRIED; each++) this.carried[each] = 0;
    this.sums.clear();
    for (let day = 0; day < 7; day++) this.week[day] = household.weekday[day] as number;
    this.level = household.level;
    this.spread = household.spread;
    this.drift = driftedVariance(household, 0);
    this.trifle = awayUse(household);
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
    return this.allAway(days) < 0.06;
  }

  /** Probability that the next `days` days use `gallons` or more. */
  reaches(days: number, gallons: number): number {
    if (gallons <= 0) return 1;
    if (days === 0) return 0;
    const { table } = this;
    const at = this.row(days);
    // One day is asked for the same amount by several: the dates, the noons, the overrun.
    if (table[at + ASKED] === gallons) return table[at + ANSWER] as number;
    if (this.sumTo[days] === 0) this.addWays(at, days);
    const ways = this.sums.reaches(this.sumFrom[days] as number, this.sumTo[days] as number, gallons);
    const answer = ways + this.allAwayReach(days, gallons);
    table[at + ASKED] = gallons;
    table[at + ANSWER] = answer;
    return answer;
  }

  /** The same within a few hundredths, at a fraction of the cost: after some days at home a sum is near normal. */
  roughlyReaches(days: number, gallons: number): number {
    if (days < 4 || !this.seldomAway(days)) return this.reaches(days, gallons);
    return normalProbability((this.mean(days) - gallons) / this.deviation(days));
  }

  /** What that is at most, cheaper yet for months ahead: whoever is away throughout must do it by trifles. */
  reachesAtMost(days: number, gallons: number): number {
    return gallons <= 0 ? 1 : 1 - this.allAway(days) + this.allAwayReach(days, gallons);
  }

  /** Probability that all the next `days` days are away. */
  private allAway(days: number): number {
    this.regimes.awayUpTo(days);
    return this.regimes.awayThroughout[days] as number;
  }

  /** Probability that they are and use `gallons` or more: nothing at all, or else an exponentially distributed trifle. */
  private allAwayReach(days: number, gallons: number): number {
    const { awayDry, awayUse } = this.household;
    const allAway = this.allAway(days);
    if (allAway <= NEGLIGIBLE || awayUse === 0) return 0;
    return allAway * (1 - awayDry) * Math.exp(-gallons / (days * awayUse));
  }

  /** The ways in which so many days, 1 or more, may go unless all are away: some of them at home, and then all. */
  private addWays(at: number, days: number): void {
    const { table, sums, sumFrom, sumTo } = this;
    sumFrom[days] = sums.size;
    const allHome = this.regimes.homeThroughout[days] as number;
    const home = table[at + HOME_MEAN] as number;
    const scatter = table[at + HOME_SCATTER] as number;
    const wander = table[at + HOME_WANDER] as number;
    const both = 1 - this.allAway(days) - allHome;
    if (both > NEGLIGIBLE) {
      if (days <= COUNTED_DAYS) this.addCounted(days, scatter / days, wander / (days * days));
      else this.addRest(days, both, home, scatter + wander);
    }
    sums.add(allHome, home, scatter + wander);
    sumTo[days] = sums.size;
  }

  /** Some of the days at home, not all: by how many are. */
  private addCounted(days: number, scatter: number, wander: number): void {
    const { trifle, homeDays, sums } = this;
    const trifles = days * trifle;
    // Mean of a day at home beyond a trifle.
    const aHomeDay = (this.mean(days) - trifles) / (this.table[days * WIDTH + DAYS_AT_HOME] as number);
    homeDays.upTo(days, this.regimes);
    for (let k = homeDays.fewestOf(days); k < days; k++) {
      const probability = homeDays.probability(days, k);
      if (probability >= LEAST_COUNT)
        sums.add(probability, k * aHomeDay + trifles, k * (scatter + k * wander));
    }
  }

  /** The same, `both`, as one: what is left of mean and variance when the other ways are taken out. */
  private addRest(days: number, both: number, homeMean: number, homeVariance: number): void {
    const mean = this.mean(days);
    const allAway = this.allAway(days);
    const allHome = 1 - allAway - both;
    const away = days * this.trifle;
    const rest = (mean - allAway * away - allHome * homeMean) / both;
    const square =
      this.deviation(days) ** 2 +
      mean ** 2 -
      allAway * away ** 2 -
      allHome * (homeVariance + homeMean * homeMean);
    this.sums.add(both, rest, Math.max(square / both - rest * rest, 1e-6 * rest * rest));
  }

  private row(days: number): number {
    if (this.days < days) this.workOut(Math.min(days + ROWS_AT_ONCE - 1, HORIZON_DAYS));
    return days * WIDTH;
  }

  /** Works out the rows up to `last`. */
  private workOut(last: number): void {
    const { table, regimes, carried, household, level, drift, sumTo, week } = this;
    regimes.upTo(last);
    const { weekday, away, awayThroughout, leaving, firstReturning, laterReturning } = regimes;
    const trifle = this.trifle;
    const trifleShare = trifle / level;
    const square = level * level;
    let levelVariance = carried[LEVEL_VARIANCE] as number;
    let part = carried[PART] as number;
    let scatter = carried[SCATTER] as number;
    let wander = carried[WANDER] as number;
    let drag = carried[DRAG] as number;
    let pull = carried[PULL] as number;
    let homePart = carried[HOME_PART] as number;
    let homeScatter = carried[ALL_SCATTER] as number;
    let homeWander = carried[ALL_WANDER] as number;
    let homeDrag = carried[HOME_DRAG] as number;
    let homeDays = carried[HOME_DAYS] as number;
    for (let days = this.days + 1; days <= last; days++) {
      const factor = week[weekday[days] as number] as number;
      const isAway = away[days] as number;
      levelVariance = Math.min(levelVariance + drift, LEVEL_VARIANCE_MAX);
      const spread = days === 1 ? nextSpread(household) : this.spread;
      const noise = spread * (1 + levelVariance) * factor * factor;
      // Being at home adds this much over being away.
      const gap = factor - trifleShare;
      const more = (1 - isAway) * gap;
      // How the use so far goes with being at home on the day: whoever was away all the while has used nothing.
      const returning = laterReturning[days] as number;
      const first = days === 1 ? 0 : (awayThroughout[days - 1] as number);
      pull =
        pull * (1 - (leaving[days] as number) - returning) +
        (returning - (firstReturning[days] as number)) * first * part;
      scatter += (1 - isAway) * noise + gap * (more * isAway + 2 * pull);
      pull += more * isAway;
      wander += more * (more * levelVariance + 2 * drag);
      drag += more * levelVariance;
      part += more;
      homePart += factor;
      homeScatter += noise;
      homeWander += factor * (factor * levelVariance + 2 * homeDrag);
      homeDrag += factor * levelVariance;
      homeDays += 1 - isAway;

      const together = togetherFactor(household, days);
      const at = days * WIDTH;
      table[at + MEAN] = level * part + days * trifle;
      table[at + DEVIATION] = level * Math.sqrt(scatter * together + wander);
      table[at + HOME_DAY] = level * factor;
      table[at + DAYS_AT_HOME] = homeDays;
      table[at + HOME_MEAN] = level * homePart;
      table[at + HOME_SCATTER] = square * homeScatter * together;
      table[at + HOME_WANDER] = square * homeWander;
      table[at + ASKED] = Number.NaN;
      sumTo[days] = 0;
    }
    carried[LEVEL_VARIANCE] = levelVariance;
    carried[PART] = part;
    carried[SCATTER] = scatter;
    carried[WANDER] = wander;
    carried[DRAG] = drag;
    carried[PULL] = pull;
    carried[HOME_PART] = homePart;
    carried[ALL_SCATTER] = homeScatter;
    carried[ALL_WANDER] = homeWander;
    carried[HOME_DRAG] = homeDrag;
    carried[HOME_DAYS] = homeDays;
    this.days = last;
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
