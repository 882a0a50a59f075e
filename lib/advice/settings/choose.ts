import type { Outcome } from './outcome.ts';

/**
 * Amounts that are shown alike are alike here: salt in whole lb a year, water in whole gallons, hard-water days in
 * tenths. Nobody should set a control anew for less.
 */
const salt = (outcome: Outcome) => Math.round(outcome.saltLbAYear);
const water = (outcome: Outcome) => Math.round(outcome.waterGallonsAYear);
const hardDays = (outcome: Outcome) => Math.round(10 * outcome.hardDaysAYear);

/** Rates of less than a year of days leave crumbs. */
const CRUMB_DAYS = 1e-9;

/** Whether the hard-water days stay at or under so many a year. */
export function keepsWithin(outcome: Outcome, mostHardDays: number): boolean {
  return outcome.hardDaysAYear <= mostHardDays + CRUMB_DAYS;
}

/**
 * The outcome of least salt among those that keep hard-water days within the limit; of those with as much salt the one
 * with the fewest hard-water days, then the least water, then the first. Where none keeps within, the one with the
 * fewest hard-water days, then by salt and water. Undefined without any.
 */
export function choose(outcomes: readonly Outcome[], mostHardDays: number): Outcome | undefined {
  const within = outcomes.filter((outcome) => keepsWithin(outcome, mostHardDays));
  return within.length > 0
    ? least(within, [salt, hardDays, water])
    : least(outcomes, [hardDays, salt, water]);
}

/** The outcomes that no other beats in salt, water and hard-water days at once; of equal ones the first. By salt. */
export function frontier(outcomes: readonly Outcome[]): Outcome[] {
  const ascending = [...outcomes].sort(
    (a, b) => salt(a) - salt(b) || water(a) - water(b) || hardDays(a) - hardDays(b),
  );
  const kept: Outcome[] = [];
  for (const outcome of ascending) {
    const isBeaten = kept.some(
      (other) => water(other) <= water(outcome) && hardDays(other) <= hardDays(outcome),
    );
    if (!isBeaten) kept.push(outcome);
  }
  return kept;
}

type Measure = (outcome: Outcome) => number;

function least(outcomes: readonly Outcome[], measures: readonly Measure[]): Outcome | undefined {
  let best: Outcome | undefined;
  for (const outcome of outcomes) if (!best || isLess(outcome, best, measures)) best = outcome;
  return best;
}

function isLess(a: Outcome, b: Outcome, measures: readonly Measure[]): boolean {
  for (const measure of measures) {
    const difference = measure(a) - measure(b);
    if (difference !== 0) return difference < 0;
  }
  return false;
}
