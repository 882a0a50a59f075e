import { intervalScore, pinball } from '../scores.ts';
import type { Family } from './family.ts';
import { ends, GRID, type Interval, LOSS_PERCENTS, quantileOf } from './grid.ts';
import { scaledError } from './naive.ts';
import { binShares, crpsOfQuantiles } from './quantileScores.ts';
import { type Forecast, type RollOptions, roll } from './roll.ts';
import type { UsedDay } from './usedDay.ts';

/**
 * How well a family forecast one home, so many days together. Losses are over the home's mean use of as many days;
 * null where it used nothing.
 */
export interface HomeScore {
  readonly home: string;
  readonly family: string;
  readonly days: number;
  readonly forecasts: number;
  /** Mean use of so many days together, US gallons. */
  readonly meanGallons: number;
  /** Mean pinball loss of the 10, 50 and 90 % quantiles, and of each. */
  readonly loss: number | null;
  readonly lossAt: readonly (number | null)[];
  /** Continuous ranked probability score, from 19 quantiles. */
  readonly crps: number | null;
  /** Score of the 80 % interval: its width, and ten times by how much it was missed. */
  readonly intervalScore: number | null;
  /** Of the 50 % quantile, by the naive forecast of the same weekdays; null where the warm-up has nothing to scale by. */
  readonly mase: number | null;
  /** Share (0 to 1) of what came that lay within each central interval. */
  readonly coverage: Readonly<Record<Interval, number>>;
  /** Share of what came in each of the bins between the quantiles of the grid. */
  readonly bins: readonly number[];
}

/** Scores a family on one home, for each horizon of which there was anything to forecast. */
export function scoreHome(
  family: Family,
  home: string,
  record: readonly UsedDay[],
  options: RollOptions,
): HomeScore[] {
  const byDays = new Map<number, Forecast[]>(options.horizons.map((days) => [days, []]));
  roll(family, record, options, (forecast) => byDays.get(forecast.days)?.push(forecast));
  const training = record.slice(0, options.warmUpDays);
  return [...byDays.values()].flatMap((forecasts) => {
    const [first] = forecasts;
    if (!first) return [];
    return { home, family: family.name, days: first.days, ...scored(forecasts, training, first.days) };
  });
}

function scored(forecasts: readonly Forecast[], training: readonly UsedDay[], days: number) {
  const mean = (of: (forecast: Forecast) => number) =>
    forecasts.reduce((sum, each) => sum + of(each), 0) / forecasts.length;
  const meanGallons = mean(({ gallons }) => gallons);
  const scaled = (loss: number) => (meanGallons > 0 ? loss / meanGallons : null);
  const lossAt = LOSS_PERCENTS.map((percent) =>
    mean(({ quantiles, gallons }) => pinball(percent / 100, quantileOf(quantiles, percent), gallons)),
  );
  const within = (interval: Interval) =>
    mean(({ quantiles, gallons }) => {
      const { lower, upper } = ends(quantiles, interval);
      return gallons >= lower && gallons <= upper ? 1 : 0;
    });
  return {
    forecasts: forecasts.length,
    meanGallons,
    loss: scaled(lossAt.reduce((sum, each) => sum + each, 0) / lossAt.length),
    lossAt: lossAt.map(scaled),
    crps: scaled(mean(({ quantiles, gallons }) => crpsOfQuantiles(GRID, quantiles, gallons))),
    intervalScore: scaled(
      mean(({ quantiles, gallons }) => {
        const { lower, upper } = ends(quantiles, 80);
        return intervalScore(0.2, lower, upper, gallons);
      }),
    ),
    mase: scaledError(
      training,
      days,
      forecasts.map(({ quantiles }) => quantileOf(quantiles, 50)),
      forecasts.map(({ gallons }) => gallons),
    ),
    coverage: { 50: within(50), 80: within(80), 90: within(90) },
    bins: meanBins(forecasts),
  };
}

function meanBins(forecasts: readonly Forecast[]): number[] {
  const sums = Array.from({ length: GRID.length + 1 }, () => 0);
  for (const { quantiles, gallons } of forecasts) {
    binShares(quantiles, gallons).forEach((share, bin) => {
      sums[bin] = (sums[bin] ?? 0) + share;
    });
  }
  return sums.map((sum) => sum / forecasts.length);
}
