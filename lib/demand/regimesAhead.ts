import { type LocalDate, weekdayOf } from '../../shared/time/localDate.ts';
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
  /** The chance of return after whole days away, over that after the first. */
  private readonly stay: Float64Array;
  private household = newHousehold();
  private lastCounted = 0;
  private nextWeekday = 0;
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
    this.stay = perDay().map((_, days) => stayFactor(days));
  }

  /** Starts over for a household, after `lastCounted`, and works out the first day. */
  begin(household: Household, lastCounted: LocalDate): void {
    this.household = household;
    this.lastCounted = lastCounted;
    this.awayBefore = household.away > 0.5 ? household.awayDays : 0;
    this.nextWeekday = weekdayOf(lastCounted + 1);
    const weekday = this.passWeekday(lastCounted + 1);
    const leaving = leavingAfter(household, weekday);
    const returning = (household.returning[weekday] as number) * stayFactor(this.awayBefore);
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

  /** The day of the week that the next date is to the household, the dates being asked for one after the other. */
  private passWeekday(date: LocalDate): number {
    const weekday = this.nextWeekday;
    this.nextWeekday = weekday === 6 ? 0 : weekday + 1;
    return this.household.holidays.length > 0 ? dayOf(this.household, date) : weekday;
  }

  /** Works out who is away throughout, up to `days` (1 to the most), at a fraction of the cost of all. */
  awayUpTo(days: number): void {
    if (days <= this.awayDays) return;
    const { lastCounted, awayBefore, weekday, awayThroughout, firstReturning, stay } = this;
    const weekReturning = this.household.returning;
    const longest = stay.length - 1;
    let away = awayThroughout[this.awayDays] as number;
    for (let day = this.awayDays + 1; day <= days; day++) {
      const of = this.passWeekday(lastCounted + day);
      const returning =
        (weekReturning[of] as number) * (stay[Math.min(awayBefore + day - 1, longest)] as number);
      away *= 1 - returning;
      weekday[day] = of;
      firstReturning[day] = returning;
      awayThroughout[day] = away;
    }
    this.awayDays = days;
  }

  /** Works out all up to `days` (1 to the most). */
  upTo(days: number): void {
    if (days <= this.days) return;
    this.awayUpTo(days);
    const { weekday, awayThroughout, laterDays, homeThroughout } = this;
    const { leaving: weekLeaving, returning: weekReturning } = this.household;
    const { away, leaving: leavingOn, laterReturning } = this;
    let awayNow = away[this.days] as number;
    let laterDaysNow = laterDays[this.days] as number;
    let homeNow = homeThroughout[this.days] as number;
    for (let day = this.days + 1; day <= days; day++) {
      const of = weekday[day] as number;
      const leaving = weekLeaving[of] as number;
      const returning = (weekReturning[of] as number) * stayFactor(laterDaysNow);
      const leavers = (1 - awayNow) * leaving;
      const stayers = (awayNow - (awayThroughout[day - 1] as number)) * (1 - returning);
      laterDaysNow = (stayers * (laterDaysNow + 1) + leavers) / (stayers + leavers);
      awayNow = (awayThroughout[day] as number) + stayers + leavers;
      homeNow *= 1 - leaving;
      leavingOn[day] = leaving;
      laterReturning[day] = returning;
      laterDays[day] = laterDaysNow;
      away[day] = awayNow;
      homeThroughout[day] = homeNow;
    }
    this.days = days;
  }
}
