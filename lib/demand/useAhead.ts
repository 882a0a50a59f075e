import type { LocalDate } from '../../shared/time/localDate.ts';
import { normalProbability } from './gamma.ts';
import { GammaMixture } from './gammaMixture.ts';
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

// What is known of the sum of the next n days is row n of a table, one column each, all for a level of 1:
/** Mean of the last of the days if it is a home day, and variance of the belief about its level. */
const HOME_DAY = 0;
const LEVEL_VARIANCE = 1;
/**
 * Mean beyond the trifle of as many away days; variance if the level were known; variance from the level; covariance with
 * later levels.
 */
const PART = 2;
const SCATTER = 3;
const WANDER = 4;
const DRAG = 5;
/** Covariance with being at home on the last day. */
const PULL = 6;
/** PART to DRAG of the same days, all at home, the trifle included. */
const HOME_PART = 7;
const HOME_SCATTER = 8;
const HOME_WANDER = 9;
const HOME_DRAG = 10;
/** Mean number of days at home. */
const HOME_DAYS = 11;
const WIDTH = 12;

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
  private readonly regimes = new RegimesAhead(HORIZON_DAYS);
  private readonly homeDays = new HomeDays();
  /** What the next n days use together unless all are away; empty until asked for. */
  private readonly sums: GammaMixture[] = [];
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
    for (let day = 0; day < 7; day++) this.week[day] = household.weekday[day] as number;
    this.level = household.level;
    this.spread = household.spread;
    this.drift = driftedVariance(household, 0);
    this.trifle = awayUse(household);
    this.table.fill(0, 0, WIDTH);
    this.table[LEVEL_VARIANCE] = household.levelVariance;
  }

  /** Mean use of the next `days` days (0 to the horizon), gallons. */
  mean(days: number): number {
    return this.level * (this.table[this.row(days) + PART] as number) + days * this.trifle;
  }

  /** Standard deviation of the use of the next `days` days, gallons. */
  deviation(days: number): number {
    const at = this.row(days);
    const scatter = (this.table[at + SCATTER] as number) * togetherFactor(this.household, days);
    return this.level * Math.sqrt(scatter + (this.table[at + WANDER] as number));
  }

  /** Mean use of the `day`-th day from now (1 or more) if it is a home day, gallons. */
  homeDay(day: number): number {
    return this.level * (this.table[this.row(day) + HOME_DAY] as number);
  }

  /** Whether the next `days` days are hardly ever all away, so that their sum has one hump. */
  seldomAway(days: number): boolean {
    return this.allAway(days) < 0.06;
  }

  /** Probability that the next `days` days use `gallons` or more. */
  reaches(days: number, gallons: number): number {
    if (gallons <= 0) return 1;
    if (days === 0) return 0;
    return this.sumOf(days).reaches(gallons) + this.allAwayReach(days, gallons);
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
    if (days === 0) return this.household.away;
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

  /** The sum of so many days, 1 or more, unless all are away. */
  private sumOf(days: number): GammaMixture {
    const at = this.row(days);
    const sum = this.sums[days] as GammaMixture;
    if (sum.isEmpty()) this.addWays(sum, at, days);
    return sum;
  }

  /** The ways in which so many days may go: some of them at home, and then all. */
  private addWays(sum: GammaMixture, at: number, days: number): void {
    const { table, level } = this;
    const allHome = this.regimes.homeThroughout[days] as number;
    const home = level * (table[at + HOME_PART] as number);
    const together = togetherFactor(this.household, days);
    const scatter = level * level * (table[at + HOME_SCATTER] as number) * together;
    const wander = level * level * (table[at + HOME_WANDER] as number);
    const both = 1 - this.allAway(days) - allHome;
    if (both > NEGLIGIBLE) {
      if (days <= COUNTED_DAYS) this.addCounted(sum, days, scatter / days, wander / (days * days));
      else this.addRest(sum, days, both, { mean: home, variance: scatter + wander });
    }
    sum.add(allHome, home, scatter + wander);
  }

  /** Some of the days at home, not all: by how many are. */
  private addCounted(sum: GammaMixture, days: number, scatter: number, wander: number): void {
    const { level, trifle, homeDays } = this;
    const at = this.row(days);
    const aDay = (level * (this.table[at + PART] as number)) / (this.table[at + HOME_DAYS] as number);
    homeDays.upTo(days, this.regimes);
    for (let k = homeDays.fewestOf(days); k < days; k++) {
      const probability = homeDays.probability(days, k);
      if (probability >= LEAST_COUNT)
        sum.add(probability, k * aDay + days * trifle, k * (scatter + k * wander));
    }
  }

  /** The same, `both`, as one: what is left of mean and variance when the other ways are taken out. */
  private addRest(
    sum: GammaMixture,
    days: number,
    both: number,
    home: { mean: number; variance: number },
  ): void {
    const mean = this.mean(days);
    const allAway = this.allAway(days);
    const allHome = 1 - allAway - both;
    const away = days * this.trifle;
    const rest = (mean - allAway * away - allHome * home.mean) / both;
    const square =
      this.deviation(days) ** 2 +
      mean ** 2 -
      allAway * away ** 2 -
      allHome * (home.variance + home.mean ** 2);
    sum.add(both, rest, Math.max(square / both - rest * rest, 1e-6 * rest * rest));
  }

  private row(days: number): number {
    if (this.days < days) {
      this.regimes.upTo(days);
      while (this.days < days) this.advance();
    }
    return days * WIDTH;
  }

  private advance(): void {
    const { table, regimes, drift } = this;
    const was = this.days * WIDTH;
    const at = was + WIDTH;
    this.days += 1;
    const { days } = this;
    this.sums[days] ??= new GammaMixture(Math.min(days, COUNTED_DAYS) + 1);
    this.sums[days].clear();

    const factor = this.week[regimes.weekday[days] as number] as number;
    const away = regimes.away[days] as number;
    const levelVariance = Math.min((table[was + LEVEL_VARIANCE] as number) + drift, LEVEL_VARIANCE_MAX);
    const spread = days === 1 ? nextSpread(this.household) : this.spread;
    const noise = spread * (1 + levelVariance) * factor * factor;
    // Being at home adds this much over being away.
    const gap = factor - this.trifle / this.level;
    const part = (1 - away) * gap;
    const pull = this.pull(was);
    const parts = table[was + PART] as number;
    const drag = table[was + DRAG] as number;
    const homeDrag = table[was + HOME_DRAG] as number;

    table[at + HOME_DAY] = factor;
    table[at + LEVEL_VARIANCE] = levelVariance;
    table[at + PART] = parts + part;
    table[at + SCATTER] =
      (table[was + SCATTER] as number) + (1 - away) * noise + gap * (part * away + 2 * pull);
    table[at + WANDER] = (table[was + WANDER] as number) + part * (part * levelVariance + 2 * drag);
    table[at + DRAG] = drag + part * levelVariance;
    table[at + PULL] = pull + part * away;
    table[at + HOME_PART] = (table[was + HOME_PART] as number) + factor;
    table[at + HOME_SCATTER] = (table[was + HOME_SCATTER] as number) + noise;
    table[at + HOME_WANDER] =
      (table[was + HOME_WANDER] as number) + factor * (factor * levelVariance + 2 * homeDrag);
    table[at + HOME_DRAG] = homeDrag + factor * levelVariance;
    table[at + HOME_DAYS] = (table[was + HOME_DAYS] as number) + 1 - away;
  }

  /** How the use so far goes with being at home on the day under way: whoever was away all the while has used nothing. */
  private pull(was: number): number {
    const { table, regimes, days } = this;
    const leaving = regimes.leaving[days] as number;
    const returning = regimes.laterReturning[days] as number;
    const first = days === 1 ? 0 : (regimes.awayThroughout[days - 1] as number);
    return (
      (table[was + PULL] as number) * (1 - leaving - returning) +
      (returning - (regimes.firstReturning[days] as number)) * first * (table[was + PART] as number)
    );
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
