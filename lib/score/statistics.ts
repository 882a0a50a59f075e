import * as z from 'zod';
import { brier } from '../demand/scores.ts';

/** The share of items of which something is so; null without items. */
export function shareOf<Item>(items: readonly Item[], is: (item: Item) => boolean): number | null {
  return items.length === 0 ? null : items.filter(is).length / items.length;
}

/** The least value that is not exceeded by a share `p` of them; null without values. */
export function quantile(values: readonly number[], p: number): number | null {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.max(0, Math.ceil(p * sorted.length) - 1)] ?? null;
}

/** A probability that was given, and whether the thing was so. */
export interface Forecast {
  readonly probability: number;
  readonly happened: boolean;
}

const share = z.number().min(0).max(1).nullable();

/** One bin of a reliability diagram. */
export const binSchema = z.object({
  from: z.number().describe('Probabilities from here'),
  to: z.number().describe('to just under here; the last bin has 1, too'),
  count: z.int().min(0).describe('How often one was given'),
  meanProbability: share.describe('Their mean; null in an empty bin'),
  share: share.describe('Share of them that came true'),
});

export type Bin = z.infer<typeof binSchema>;

/** How far probabilities came true. */
export const calibrationSchema = z.object({
  count: z.int().min(0).describe('Probabilities that were given'),
  calibrationError: share.describe('Expected calibration error over ten bins of the same width'),
  brier: share.describe('Brier score: mean square of probability less what came, 1 or 0'),
  reliability: z.array(binSchema),
});

export type Calibration = z.infer<typeof calibrationSchema>;

const BINS = 10;

/** How probabilities and shares agree, over ten bins of the same width. */
export function reliability(forecasts: readonly Forecast[]): Bin[] {
  return Array.from({ length: BINS }, (_, index) => {
    const inside = forecasts.filter(
      ({ probability }) => Math.min(BINS - 1, Math.floor(probability * BINS)) === index,
    );
    const sum = inside.reduce((total, { probability }) => total + probability, 0);
    return {
      from: index / BINS,
      to: (index + 1) / BINS,
      count: inside.length,
      meanProbability: inside.length === 0 ? null : sum / inside.length,
      share: shareOf(inside, ({ happened }) => happened),
    };
  });
}

/**
 * Expected calibration error: the mean distance of probability and share over the bins, each weighed by what is in it
 * (Naeini, Cooper & Hauskrecht 2015; from memory, unverified). Null without forecasts.
 */
export function calibrationError(forecasts: readonly Forecast[]): number | null {
  if (forecasts.length === 0) return null;
  return reliability(forecasts).reduce(
    (sum, { count, meanProbability, share }) =>
      sum + (count / forecasts.length) * Math.abs((meanProbability ?? 0) - (share ?? 0)),
    0,
  );
}

/** The Brier score; null without forecasts. */
export function brierOf(forecasts: readonly Forecast[]): number | null {
  return forecasts.length === 0 ? null : brier(forecasts);
}

/** All of that. The order of the forecasts does not matter, to the last digit. */
export function calibrationOf(forecasts: readonly Forecast[]): Calibration {
  const sorted = [...forecasts].sort(
    (a, b) => a.probability - b.probability || Number(a.happened) - Number(b.happened),
  );
  return {
    count: sorted.length,
    calibrationError: calibrationError(sorted),
    brier: brierOf(sorted),
    reliability: reliability(sorted),
  };
}
