import type { Forecast } from '../../lib/demand/backtest/roll.ts';
import type { HomeScore } from '../../lib/demand/backtest/scoreHome.ts';
import type { FamilyScore } from '../../lib/demand/backtest/summary.ts';
import type { FleetPrior } from '../../lib/demand/prior.ts';

/** All that a backtest found. */
export interface Report {
  readonly warmUpDays: number;
  /** Horizons that any home had forecasts of, rising. */
  readonly horizons: readonly number[];
  /** Names of the families, the demand model first, and of the one that all are measured by. */
  readonly families: readonly [string, ...string[]];
  readonly plain: string;
  readonly homes: number;
  /** Homes that were left out, their record being too short. */
  readonly leftOut: readonly string[];
  /** What these homes would have a new one taken for: may stand in rules, under fold.demand.prior. */
  readonly prior: FleetPrior;
  /** By horizon, then family. */
  readonly scores: readonly FamilyScore[];
  readonly byHome: readonly HomeScore[];
  /** A home like most, a day ahead. */
  readonly example: { readonly home: string; readonly forecasts: readonly Forecast[] };
}

/** The figures as JSON, of at most six decimals. */
export function reportJson({ example: _, byHome, ...rest }: Report): string {
  const rounded = (_key: string, each: unknown) =>
    typeof each === 'number' ? Math.round(each * 1e6) / 1e6 : each;
  // A home's own bins hold too little each to be read.
  const homes = byHome.map(({ bins: _bins, ...score }) => score);
  return `${JSON.stringify({ ...rest, byHome: homes }, rounded, 2)}\n`;
}

/** The score of a family at a horizon. */
export function scoreOf({ scores }: Report, family: string, days: number): FamilyScore | undefined {
  return scores.find((score) => score.family === family && score.days === days);
}

/** `the next day`, `the next 3 days`. */
export function nextText(days: number): string {
  return days === 1 ? 'the next day' : `the next ${days} days`;
}

/** A share as a percentage; a dash where there is none. */
export function percent(share: number | null, digits = 1): string {
  return share === null ? '-' : `${(100 * share).toFixed(digits)} %`;
}
