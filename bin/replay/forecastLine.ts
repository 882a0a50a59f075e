import type { Forecast } from '../../shared/forecasts.ts';

/** A line of forecasts.ndjson: volumes to a hundredth of a gallon, the probability to four decimals. */
export function forecastLine(forecast: Forecast): string {
  const { nextDayUse, remaining, reserve, overrunProbability } = forecast;
  const rounded: Forecast = {
    ...forecast,
    nextDayUse: {
      p10: hundredths(nextDayUse.p10),
      p50: hundredths(nextDayUse.p50),
      p90: hundredths(nextDayUse.p90),
      mean: hundredths(nextDayUse.mean),
    },
    remaining: hundredths(remaining),
    reserve: hundredths(reserve),
    overrunProbability: Math.round(overrunProbability * 1e4) / 1e4,
  };
  return `${JSON.stringify(rounded)}\n`;
}

function hundredths(gallons: number): number {
  return Math.round(gallons * 100) / 100;
}
