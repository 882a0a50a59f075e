import type { LocalDate } from '../../../shared/time/localDate.ts';

/** A way of forecasting one home's use: it is told the days in order, and asked in between. */
export interface HomeForecaster {
  /** Takes in the use of the next day, US gallons. */
  observe(date: LocalDate, gallons: number): void;
  /** Lets the next day pass, of which nothing is known. */
  skip(date: LocalDate): void;
  /**
   * Quantiles of the use of the next `days` days together, US gallons, after the last one taken in or let pass.
   *
   * @param probabilities each above 0 and below 1, rising; as many quantiles come back, none below the one before
   */
  quantiles(days: number, probabilities: readonly number[]): number[];
}

/** A family of demand models, by name; each home gets its own forecaster. */
export interface Family {
  readonly name: string;
  begin(): HomeForecaster;
}
