import type { LocalDate } from '../../shared/time/localDate.ts';
import { dayOf, type Household, newHousehold } from './household.ts';
import { leavingAfter, stayFactor } from './regime.ts';

/**
 * How the days ahead of a household go between home and away. Three kinds are told apart: those at home; those away since
 * the first day to come or before; and those away since later. Arrays run over the days, 1 being the first to come, and
 * hold as far as was asked for: `weekday`, `awayThroughout` and `firstReturning` by either method, all by `upTo`.
 */
export class RegimesAhead {
  /** The day of the week that it is to the household. */
  readonly weekday: Uint8Array;
  /** Probability of being away on all days up to it, on it, and of being at home on all days up to it. */
  readonly awayThroughout: Float64Array;
  readonly away: Float64Array;
  readonly homeThroughout: Float64Array;
  /** Chance that whoever was at home the day before is away; that whoever was away since the first, or since later, is back. */
  readonly leaving: Float64Array;
  readonly firstReturning: Float64Array;
  readonly laterReturning: Float64Array;
  /** Mean days that those have been away who left later than on the first, 0 without any. */
  private readonly laterDays: Float64Array;
  // The household as the loops over the days read it.
  private readonly weekLeaving = new Float64Array(7);
  private readonly weekReturning = new Float64Array(7);
  private household = newHousehold();
  private lastCounted = 0;
  private awayBefore = 0;
  /** Days worked out: of being away throughout, and of all. */
  private awayDays = 0;
  private days = 0;

  /** @param most how far ahead one may look, days */
  constructor(most: number) {
    const perDay = () => new Float64Array(most + 1);
    this.weekday = new Uint8Array(most + 1);
    this.awayThroughout = perDay();
    this.away = perDay();
    this.homeThroughout = perDay();
    this.leaving = perDay();
    this.firstReturning = perDay();
    this.laterReturning = perDay();
    this.laterDays = perDay();
  }

  /** Starts over for a household, after `lastCounted`, and works out the first day. */
  begin(household: Household, lastCounted: LocalDate): void {
    this.household = household;
    this.lastCounted = lastCounted;
    for (let day = 0; day < 7; day++) {
      this.weekLeaving[day] = household.leaving[day] as number;
      this.weekReturning[day] = household.returning[day] as number;
    }
    this.awayBefore = household.away > 0.5 ? household.awayDays : 0;
    const weekday = dayOf(household, lastCounted + 1);
    const leaving = leavingAfter(household, weekday);
    const returning = (this.weekReturning[weekday] as number) * stayFactor(this.awayBefore);
    const away = household.away * (1 - returning) + (1 - household.away) * leaving;
    this.awayThroughout[0] = household.away;
    this.homeThroughout[0] = 1 - household.away;
    this.weekday[1] = weekday;
    this.leaving[1] = leaving;
    this.firstReturning[1] = returning;
    this.laterReturning[1] = 0;
    this.awayThroughout[1] = away;
    this.away[1] = away;
    this.homeThroughout[1] = 1 - away;
    this.laterDays[1] = 0;
    this.awayDays = 1;
    this.days = 1;
  }

  /** Works out who is away throughout, up to `days` (1 to the most), at a fraction of the cost of all. */
  awayUpTo(days: number): void {
    const { household, lastCounted, awayBefore, weekday, weekReturning, awayThroughout, firstReturning } =
      this;
    for (let day = this.awayDays + 1; day <= days; day++) {
      weekday[day] = dayOf(household, lastCounted + day);
      const returning = (weekReturning[weekday[day] as number] as number) * stayFactor(awayBefore + day - 1);
      firstReturning[day] = returning;
      awayThroughout[day] = (awayThroughout[day - 1] as number) * (1 - returning);
    }
    this.awayDays = Math.max(this.awayDays, days);
  }

  /** Works out all up to `days` (1 to the most). */
  upTo(days: number): void {
    this.awayUpTo(days);
    const { weekday, awayThroughout, laterDays, homeThroughout, weekLeaving, weekReturning } = this;
    for (let day = this.days + 1; day <= days; day++) {
      const before = day - 1;
      const of = weekday[day] as number;
      const leaving = weekLeaving[of] as number;
      const returning = (weekReturning[of] as number) * stayFactor(laterDays[before] as number);
      const awayBefore = this.away[before] as number;
      const leavers = (1 - awayBefore) * leaving;
      const stayers = (awayBefore - (awayThroughout[before] as number)) * (1 - returning);
      this.leaving[day] = leaving;
      this.laterReturning[day] = returning;
      this.laterDays[day] = (stayers * ((laterDays[before] as number) + 1) + leavers) / (stayers + leavers);
      this.away[day] = (awayThroughout[day] as number) + stayers + leavers;
      homeThroughout[day] = (homeThroughout[before] as number) * (1 - leaving);
    }
    this.days = Math.max(this.days, days);
  }
}
