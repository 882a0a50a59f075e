import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { DemandError } from './household.ts';

/** Scores of forecasts against what came: the smaller the better. */

/**
 * Pinball loss of a quantile forecast: (1 - p)(q - y) where y < q, else p(y - q). Not doubled, as some texts have it.
 * Source: fabletools documentation.
 *
 * @param p the quantile's probability, 0 to 1
 */
export function pinball(p: number, quantile: number, actual: number): number {
  return actual < quantile ? (1 - p) * (quantile - actual) : p * (actual - quantile);
}

/**
 * Continuous ranked probability score of a normal forecast, closed form. Source: Gneiting & Raftery 2007.
 *
 * @param deviation standard deviation, above 0
 */
export function crpsOfNormal(mean: number, deviation: number, actual: number): number {
  const z = (actual - mean) / deviation;
  const density = Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
  return deviation * (z * (2 * normalCdf(z, 0, 1) - 1) + 2 * density - 1 / Math.sqrt(Math.PI));
}

/**
 * Continuous ranked probability score of an ensemble: E|X - y| - E|X - X'| / 2. Source: Gneiting & Raftery 2007.
 *
 * @throws DemandError `undefined-score` for an empty ensemble
 */
export function crpsOfEnsemble(members: readonly number[], actual: number): number {
  if (members.length === 0)
    throw new DemandError('undefined-score', 'An ensemble without members has no score: give at least one.');
  const mean = (of: (member: number) => number) =>
    members.reduce((sum, each) => sum + of(each), 0) / members.length;
  return mean((x) => Math.abs(x - actual)) - mean((x) => mean((y) => Math.abs(x - y))) / 2;
}

/**
 * Interval score (Winkler) of a central interval: its width, and a penalty of 2 / alpha for each unit outside.
 * Source: Gneiting & Raftery 2007.
 *
 * @param alpha probability outside of the interval, above 0 to 1
 */
export function intervalScore(alpha: number, lower: number, upper: number, actual: number): number {
  return upper - lower + (2 / alpha) * (Math.max(0, lower - actual) + Math.max(0, actual - upper));
}

/**
 * Mean absolute scaled error: that of the forecasts over that of the (seasonal) naive forecast within the training
 * series. Source: Hyndman & Koehler 2006.
 *
 * @param season lag of the naive forecast, 1 for the last value
 * @throws DemandError `undefined-score` where the training series is too short, or constant over the lag, or where there
 * is no forecast or not one actual value for each
 */
export function mase(
  training: readonly number[],
  forecasts: readonly number[],
  actuals: readonly number[],
  season = 1,
): number {
  const naive = training.slice(season).map((value, index) => Math.abs(value - (training[index] ?? value)));
  const scale = naive.reduce((sum, each) => sum + each, 0) / naive.length;
  if (!(scale > 0)) {
    throw new DemandError(
      'undefined-score',
      `The training series must be longer than ${season} and must not repeat itself at that lag.`,
    );
  }
  if (forecasts.length === 0 || forecasts.length !== actuals.length)
    throw new DemandError('undefined-score', 'Give one actual value for each forecast, and at least one.');
  const errors = forecasts.map((forecast, index) => Math.abs(forecast - (actuals[index] as number)));
  return errors.reduce((sum, each) => sum + each, 0) / errors.length / scale;
}

/**
 * Brier score of probabilities against what happened (true) or did not: the mean square. Source: Brier 1950; from
 * memory, unverified.
 *
 * @throws DemandError `undefined-score` where there is no forecast
 */
export function brier(forecasts: readonly { probability: number; happened: boolean }[]): number {
  if (forecasts.length === 0)
    throw new DemandError('undefined-score', 'Without forecasts there is no score: give at least one.');
  const squares = forecasts.map(({ probability, happened }) => (probability - (happened ? 1 : 0)) ** 2);
  return squares.reduce((sum, each) => sum + each, 0) / squares.length;
}
