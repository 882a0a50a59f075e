import type { LocalDate } from '../../shared/time/localDate.ts';
import { UnitGammaTail } from './gamma.ts';
import { awayUse, dayOf, type Household, newHousehold, onceBack } from './household.ts';
import { returningAfter } from './regime.ts';
import { type ReserveAhead, reserveAhead } from './reserve.ts';
import { type UseAhead, useAhead } from './useAhead.ts';

/** Days are left out as long as their mean lies more than this many standard deviations short of the bed. */
const SHORT_DEVIATIONS = 1.3;
/** Mornings are taken together within this many standard deviations of the use. */
const STRIDE_DEVIATIONS = 1.2;
/** A stretch of mornings in which the bed is less likely than this to run out shares the answer of the one before. */
const RARE = 0.03;
/** Beyond this probability of having run out, what remains is taken to go as the last mornings went. */
const NEARLY_ALL = 0.9;
/** So is what remains after this many mornings. */
const LAST_MORNING = 60;
/** A stay away is taken for a short, a middling and a long one: the middles of the thirds of those to expect. */
const QUANTILES_OF_STAY = [1 / 6, 1 / 2, 5 / 6] as const;
/** A reserve is the mean of so many days. */
const RESERVE_DAYS = 7;
/** Steps in which a reserve is integrated over. */
const STEPS = 10;

/**
 * Probability that a bed runs out before a control that holds a reserve regenerates it: over the mornings, that it
 * runs out between this morning's hour and the next, times the share of such beds that were not due this morning.
 */
export function reserveOverrun(
  household: Household,
  lastCounted: LocalDate,
  control: ReserveAhead,
  remainingGallons: number,
): number {
  const ahead = useAhead(household, lastCounted);
  const reserve = reserveAhead(ahead, control);
  // A control that is due already does not wait for the household to be back.
  if (household.away > 0.5 && !reserve.isDue(1)) {
    return overrunOnReturn(household, lastCounted, control, remainingGallons);
  }
  const share = control.shareBeforeHour;
  race.begin(ahead, household, share, remainingGallons);
  let overrun = 0;
  let outBefore = 0;
  let dayBefore = 0;
  let stride = 1;
  let missed = 1;
  // The last number of days asked for, and the probability that they have used what remains.
  let wholeDays = 0;
  let used = 0;
  for (let day = 1; day <= LAST_MORNING; day += stride) {
    const due = reserve.isDue(day);
    const deviation = ahead.deviation(day);
    if (due || ahead.mean(day) + SHORT_DEVIATIONS * deviation > remainingGallons) {
      if (outBefore === 0)
        stride = Math.max(Math.round((STRIDE_DEVIATIONS * deviation) / ahead.homeDay(day)), 1);
      let out = 0;
      if (day > 1) {
        const before = wholeDays === day - 1 ? used : ahead.roughlyReaches(day - 1, remainingGallons);
        wholeDays = day;
        used = ahead.roughlyReaches(day, remainingGallons);
        out = before + share * (used - before);
      } else if (share > 0) {
        out = ahead.reaches(1, remainingGallons / share);
      }
      const ranOut = out - outBefore;
      const middle = (dayBefore + day) >> 1;
      if (middle > 0 && ranOut > RARE) {
        const outByMiddle = outBefore + (ranOut * (middle - dayBefore)) / (day - dayBefore);
        missed = race.missed(middle, reserve.gallonsBy(middle), outByMiddle);
      }
      overrun += ranOut * missed;
      outBefore += ranOut;
      if (due) return overrun;
      if (outBefore > NEARLY_ALL) break;
    }
    dayBefore = day;
  }
  if (outBefore === 0) missed = race.missed(LAST_MORNING, reserve.gallonsBy(LAST_MORNING), 0);
  return overrun + (1 - outBefore) * missed;
}

/**
 * Nothing happens until the household is back, but that the reserve forgets how much it used: on the whole as after
 * a short, a middling and a long stay.
 */
function overrunOnReturn(
  household: Household,
  lastCounted: LocalDate,
  control: ReserveAhead,
  remainingGallons: number,
): number {
  const back = onceBack(household);
  let overrun = 0;
  let daysBefore = -1;
  let ofStay = 0;
  for (const quantile of QUANTILES_OF_STAY) {
    const days = daysStayed(household, lastCounted, quantile);
    // One stay may be as long as the one before.
    if (days !== daysBefore) {
      const onReturn = {
        believedGallons: control.believedGallons,
        lastSevenDays: afterStay(control.lastSevenDays, days, awayUse(household)),
        shareBeforeHour: control.shareBeforeHour,
      };
      ofStay = reserveOverrun(back, lastCounted + days, onReturn, remainingGallons);
      daysBefore = days;
    }
    overrun += ofStay / QUANTILES_OF_STAY.length;
  }
  return overrun;
}

/** What a reserve remembers after so many days away. */
function afterStay(lastSevenDays: readonly number[], days: number, gallons: number): number[] {
  const after = lastSevenDays.slice();
  for (let day = 0; day < days; day++) after.push(gallons);
  return after.slice(-RESERVE_DAYS);
}

/** A quantile of the further days that an absent household stays away, a reserve's memory at most. */
function daysStayed(household: Household, lastCounted: LocalDate, quantile: number): number {
  let staying = 1;
  for (let days = 0; days < RESERVE_DAYS; days++) {
    staying *=
      1 - returningAfter(household, household.awayDays + days, dayOf(household, lastCounted + 1 + days));
    if (staying < 1 - quantile) return days;
  }
  return RESERVE_DAYS;
}

/** Beds that run out between the hour of one morning and the next, and how many of them were not due at the first. */
class Race {
  private ahead: UseAhead;
  private share = 0;
  private remaining = 0;
  private known = 0;
  private readonly day = new UnitGammaTail();

  constructor(ahead: UseAhead) {
    this.ahead = ahead;
  }

  begin(ahead: UseAhead, household: Household, share: number, remaining: number): void {
    const { level, levelVariance, spread } = household;
    this.ahead = ahead;
    this.share = share;
    this.remaining = remaining;
    // How far the level is known by then from the use itself, which also narrows the day.
    this.known = levelVariance / (levelVariance + spread / Math.max(remaining / level - 1, 1));
    const spreadBetweenHours = spread * ((1 - share) * (1 - share) + share * share);
    this.day.begin(Math.sqrt(spreadBetweenHours + levelVariance * (1 - this.known)));
  }

  /**
   * Of the beds that run out after this morning's hour and by the next: the share that is not due at the first,
   * where `trigger` is what the whole days before must have used for that. `out` of all beds have run out by it.
   */
  missed(morning: number, trigger: number, out: number): number {
    const left = this.remaining - this.share * this.ahead.homeDay(morning);
    if (morning === 1) {
      // Where none run out, none are due either.
      const out = this.ahead.reaches(1, left);
      return out > 0 ? 1 - Math.min(this.ahead.reaches(1, trigger) / out, 1) : 1;
    }
    if (trigger >= left) return 1;
    return morning === 2 ? this.summed(left, trigger) : this.estimated(morning, left, trigger, out);
  }

  /** The density of the use so far is taken as even above the trigger, and as even for a stretch below it. */
  private estimated(morning: number, left: number, trigger: number, out: number): number {
    const { ahead, day } = this;
    const margin = left - trigger;
    const unit = this.dayAfter(morning, trigger - 0.3 * ahead.homeDay(morning));
    const longer = day.probability(margin / unit);
    if (longer < 1e-3) return 0;
    const excess = day.excess(margin / unit);
    const stretch = Math.min((1.5 * unit * excess) / longer, 0.99 * trigger);
    const due = ahead.roughlyReaches(morning - 1, trigger);
    const missed = ((ahead.roughlyReaches(morning - 1, trigger - stretch) - due) / stretch) * excess;
    const caught = (Math.max(due - out, 0) / margin) * (1 - excess);
    // Where next to none are there to tell by: a day met in proportion to its length (the renewal theorem).
    return missed + caught > 1e-9 ? Math.max(missed, 0) / (Math.max(missed, 0) + caught) : excess;
  }

  /** After a single day that density bends too much: summed over what was used on it. */
  private summed(left: number, trigger: number): number {
    const { ahead, day } = this;
    const least = 0.02 * trigger;
    let missed = 0;
    let all = 0;
    let from = left;
    let reaching = ahead.reaches(1, left);
    let longer = 1;
    for (let step = 1; step <= STEPS; step++) {
      const to = left - (step / STEPS) * (left - least);
      const reachingTo = ahead.reaches(1, to);
      const longerTo = day.probability((left - to) / this.dayAfter(2, to));
      const ranOut = ((reachingTo - reaching) * (longer + longerTo)) / 2;
      all += ranOut;
      missed += ranOut * Math.min(Math.max((trigger - to) / (from - to), 0), 1);
      from = to;
      reaching = reachingTo;
      longer = longerTo;
    }
    const away = (1 - reaching) * longer;
    return all + away > 0 ? (missed + away) / (all + away) : 0;
  }

  /** Mean use of a home day on which the days before it had used `gallons`. */
  private dayAfter(morning: number, gallons: number): number {
    const { ahead, known } = this;
    return ahead.homeDay(morning) * (1 + known * (gallons / ahead.mean(morning - 1) - 1));
  }
}

/** One serves all, as one `useAhead` does. */
const race = new Race(useAhead(newHousehold(), 0));
