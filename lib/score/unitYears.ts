import type { ScoredUnit } from './scoredUnit.ts';

/** Mean length of a Gregorian year, days. */
const DAYS_A_YEAR = 365.25;

/** Unit-years that were watched. */
export function unitYears(units: readonly ScoredUnit[]): number {
  return units.reduce((sum, { from, to }) => sum + Math.max(0, to - from + 1), 0) / DAYS_A_YEAR;
}

/** So many a unit-year; null where no unit was watched. */
export function perUnitYear(count: number, units: readonly ScoredUnit[]): number | null {
  const years = unitYears(units);
  return years > 0 ? count / years : null;
}

/** Whether no fault was injected into a unit. */
export function isHealthy({ truth }: ScoredUnit): boolean {
  return truth.every(({ what }) => what !== 'fault');
}
