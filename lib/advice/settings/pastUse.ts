import type { Fact } from '../../../shared/facts.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import { expectedUse, newHousehold, observe, skip } from '../../demand/household.ts';
import { nextDayUse } from '../../demand/predictive.ts';
import { RESERVE_DAYS, reserveGallons } from '../../unit/control.ts';
import { standingDays } from '../../unit/history.ts';

export const DAYS_A_YEAR = 365;

/**
 * Of a longer time without a report only so many days are passed one by one: all that the year can reach back to, and as
 * much again for what is believed to settle. One event of the year 1 would otherwise be 740,000 days of work.
 */
const LONGEST_GAP_DAYS = 2 * DAYS_A_YEAR;

/** What a household drew on each local day of a past year at the most, as its meter reported it. */
export interface PastUse {
  /** The first and the last local day. */
  readonly from: LocalDate;
  readonly to: LocalDate;
  /** US gallons by day; expected use stands for a day that was not reported. */
  readonly gallons: Float64Array;
  readonly missingDays: number;
  /** By day, the reserve that a control holds on its morning: the mean of the seven days before, US gallons. */
  readonly meanReserve: Float64Array;
  /** By day, what the household would not exceed with probability 0.9, by what was known the day before. */
  readonly forecastReserve: Float64Array;
}

/**
 * The last 365 local days up to the last reported one, or all there are; null without any. Days that were not reported
 * get the demand model's expected use, as in the fold.
 */
export function pastUse(facts: readonly Fact[]): PastUse | null {
  const days = standingDays(facts);
  const first = days[0];
  const last = days.at(-1);
  if (!first || !last) return null;
  const from = Math.max(first.date, last.date - DAYS_A_YEAR + 1);
  const length = last.date - from + 1;
  const gallons = new Float64Array(length);
  const meanReserve = new Float64Array(length);
  const forecastReserve = new Float64Array(length);
  let missingDays = 0;
  let household = newHousehold();
  const previous: number[] = [];
  const pass = (date: LocalDate, use: number) => {
    if (date >= from) {
      gallons[date - from] = use;
      meanReserve[date - from] = reserveGallons(previous);
      forecastReserve[date - from] = nextDayUse(household, date - 1).p90;
    }
    if (previous.length >= RESERVE_DAYS) previous.shift();
    previous.push(use);
  };
  let next = first.date;
  for (const day of days) {
    for (next = Math.max(next, day.date - LONGEST_GAP_DAYS); next < day.date; next++) {
      pass(next, expectedUse(household, next));
      household = skip(household, next);
      if (next >= from) missingDays += 1;
    }
    pass(day.date, day.gallons);
    household = observe(household, day.date, day.gallons);
    next = day.date + 1;
  }
  return { from, to: last.date, gallons, missingDays, meanReserve, forecastReserve };
}
