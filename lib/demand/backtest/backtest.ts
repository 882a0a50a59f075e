import { ownPast, sameWeekday, sevenDayMean } from './baselines.ts';
import type { Family } from './family.ts';
import { ours } from './ours.ts';
import { type Forecast, type RollOptions, roll } from './roll.ts';
import { type HomeScore, scoreHome } from './scoreHome.ts';
import type { UsedDay } from './usedDay.ts';

/** A home by its name, with its reported days in order of date, one a date. */
export interface HomeRecord {
  readonly home: string;
  readonly record: readonly UsedDay[];
}

/** The demand model first, then what it is held against. */
export const FAMILIES: readonly Family[] = [ours, sevenDayMean, sameWeekday, ownPast];
/** The one that all are measured by: the control's own rule. */
export const PLAIN = sevenDayMean.name;

/** A home must have so many reported days after its warm-up: of fewer, a coverage says nothing. A guess, no source. */
export const LEAST_SCORED_DAYS = 30;

/** Whether a home's record is long enough to be scored. */
export function isLongEnough({ record }: HomeRecord, { warmUpDays }: RollOptions): boolean {
  return record.length >= warmUpDays + LEAST_SCORED_DAYS;
}

/** Scores all families on one home. */
export function backtestHome({ home, record }: HomeRecord, options: RollOptions): HomeScore[] {
  return FAMILIES.flatMap((family) => scoreHome(family, home, record, options));
}

/** What the demand model forecast for each reported day of a home after its warm-up, from the day before. */
export function nextDays({ record }: HomeRecord, warmUpDays: number): Forecast[] {
  const forecasts: Forecast[] = [];
  roll(ours, record, { warmUpDays, horizons: [1] }, (forecast) => forecasts.push(forecast));
  return forecasts;
}
