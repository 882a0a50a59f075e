import type { Family } from '../../lib/demand/backtest/family.ts';
import { live } from '../../lib/demand/backtest/roll.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import type { Home } from '../../tests/support/homes.ts';
import { keyOf, pointKey, pointsOf, SUM_DAYS } from './points.ts';

export const PROBABILITIES: readonly number[] = [0.1, 0.5, 0.9];

/** Quantiles by the name of their point: `keyOf`. */
export type Told = ReadonlyMap<string, readonly number[]>;

/** Lets a family forecast every point of the homes, each from the days before it. */
export function rolled(family: Family, homes: readonly Home[]): Told {
  const told = new Map<string, readonly number[]>();
  homes.forEach((days, home) => {
    const points = new Set(pointsOf(days, home).map(pointKey));
    const forecaster = family.begin();
    live(days, forecaster, ({ date }) => {
      for (const span of [1, SUM_DAYS]) {
        const key = keyOf(home, formatLocalDate(date), span);
        if (points.has(key)) told.set(key, forecaster.quantiles(span, PROBABILITIES));
      }
    });
  });
  return told;
}
