import type { LocalDate } from '../../../shared/time/localDate.ts';
import type { Family, HomeForecaster } from './family.ts';
import { GRID } from './grid.ts';
import { type UsedDay, useOf } from './usedDay.ts';

/** What was forecast for some days together, from the days before alone, and what came. */
export interface Forecast {
  /** The first of the days. */
  readonly date: LocalDate;
  readonly days: number;
  /** Quantiles of their use on the grid, US gallons. */
  readonly quantiles: readonly number[];
  /** What was used, US gallons. */
  readonly gallons: number;
}

/** From when on, and how far ahead, a backtest forecasts. */
export interface RollOptions {
  /** Reported days of a home before the first one that is forecast. */
  readonly warmUpDays: number;
  /** Numbers of days, each 1 or more. */
  readonly horizons: readonly number[];
}

/**
 * Lets a forecaster live through the reported days of a home, in order of date and one a date. A day that is not among
 * them passes as one of which nothing is known, never as one without use. `before` comes before each reported day is
 * taken in, when all days before it have passed.
 */
export function live(
  record: readonly UsedDay[],
  forecaster: Pick<HomeForecaster, 'observe' | 'skip'>,
  before: (day: UsedDay, index: number) => void,
): void {
  let next = record[0]?.date ?? 0;
  record.forEach((day, index) => {
    for (; next < day.date; next++) forecaster.skip(next);
    before(day, index);
    forecaster.observe(day.date, day.gallons);
    next = day.date + 1;
  });
}

/**
 * Rolls a family of models through a home and hands on each forecast: on every reported day after the warm-up, for each
 * horizon whose days are all reported. The points depend on the record alone, so all families face the same ones.
 */
export function roll(
  family: Family,
  record: readonly UsedDay[],
  { warmUpDays, horizons }: RollOptions,
  take: (forecast: Forecast) => void,
): void {
  const forecaster = family.begin();
  live(record, forecaster, ({ date }, index) => {
    if (index < warmUpDays) return;
    for (const days of horizons) {
      const gallons = useOf(record, index, days);
      if (gallons !== undefined) take({ date, days, quantiles: forecaster.quantiles(days, GRID), gallons });
    }
  });
}
