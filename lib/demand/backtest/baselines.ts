import { type LocalDate, weekdayOf } from '../../../shared/time/localDate.ts';
import type { Family } from './family.ts';
import { empiricalQuantile, PastErrors, type PointForecast } from './pastErrors.ts';

const WEEK = 7;

/** A rule that forecasts one number, which its own past errors make a distribution of. */
interface PointRule {
  observe(date: LocalDate, gallons: number): void;
  /** Lets a day pass of which nothing is known. */
  skip(date: LocalDate): void;
  /** What it says now. */
  forecast(): PointForecast;
  /** Whether it has seen enough for its errors to count. */
  readonly ready: boolean;
}

/**
 * The mean of the last seven reported days, times the number of days: what a metered control holds back by. To it are
 * added the quantiles of the errors that this rule made for this home so far.
 */
export const sevenDayMean: Family = withOwnErrors('seven-day mean', () => {
  const week: number[] = [];
  return {
    observe: (_, gallons) => {
      week.push(gallons);
      if (week.length > WEEK) week.shift();
    },
    skip: () => {},
    forecast: () => {
      const mean = meanOf(week);
      return (days) => days * mean;
    },
    get ready() {
      return week.length === WEEK;
    },
  };
});

/**
 * Each day as the last reported one of its weekday (the mean of those that there are where there is none), with
 * quantiles of its own past errors.
 */
export const sameWeekday: Family = withOwnErrors('same weekday', () => {
  let latest: readonly (number | undefined)[] = Array.from({ length: WEEK }, () => undefined);
  let last: LocalDate = 0;
  return {
    observe: (date, gallons) => {
      latest = latest.with(weekdayOf(date), gallons);
      last = date;
    },
    skip: (date) => {
      last = date;
    },
    forecast: () => {
      const [days, first] = [latest, last + 1];
      const mean = meanOf(days.filter((each) => each !== undefined));
      return (ahead) => {
        let sum = 0;
        for (let date = first; date < first + ahead; date++) sum += days[weekdayOf(date)] ?? mean;
        return sum;
      };
    },
    get ready() {
      return latest.every((each) => each !== undefined);
    },
  };
});

/**
 * The quantiles of what the home used on as many days together in its past: that it is like itself, and no more. Where
 * it never reported so many days in a row, those of one day, times their number.
 */
export const ownPast: Family = {
  name: 'own past',
  begin: () => {
    const sums = new PastErrors();
    return {
      observe: (date, gallons) => sums.add({ date, gallons }, () => 0),
      skip: () => {},
      quantiles: (days, probabilities) => {
        const past = sums.of(days);
        const [known, times] = past.length > 0 ? [past, 1] : [sums.of(1), days];
        return probabilities.map((p) => times * (empiricalQuantile(known, p) ?? 0));
      },
    };
  },
};

function withOwnErrors(name: string, rule: () => PointRule): Family {
  return {
    name,
    begin: () => {
      const own = rule();
      const errors = new PastErrors();
      return {
        observe: (date, gallons) => {
          errors.add({ date, gallons }, own.ready ? own.forecast() : undefined);
          own.observe(date, gallons);
        },
        skip: (date) => own.skip(date),
        quantiles: (days, probabilities) => {
          const point = own.forecast()(days);
          const past = errors.of(days);
          return probabilities.map((p) => Math.max(0, point + (empiricalQuantile(past, p) ?? 0)));
        },
      };
    },
  };
}

function meanOf(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0) / Math.max(1, values.length);
}
