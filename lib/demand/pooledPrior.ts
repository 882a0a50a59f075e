import type { Household } from './household.ts';
import { type FleetPrior, PUBLISHED_PRIOR } from './prior.ts';

/** Fewer homes say too little of how homes differ. */
const LEAST_HOMES = 5;
/** Homes of a fleet differ at least this much: a prior that is too sure of itself is slow to learn. */
const LEAST_VARIANCE = 0.05;

/**
 * The prior that grown households of a fleet give for a new one: their mean, and how much they differ (empirical Bayes, by
 * moments). How many days it weighs stays as published. The published prior where there are fewer than five.
 */
export function pooledPrior(households: readonly Household[]): FleetPrior {
  if (households.length < LEAST_HOMES) return PUBLISHED_PRIOR;
  const mean = (of: (household: Household) => number) =>
    households.reduce((sum, household) => sum + of(household), 0) / households.length;
  const level = mean((home) => home.level);
  const between = mean((home) => (home.level - level) ** 2) / (level * level);
  const factors = PUBLISHED_PRIOR.weekday.map((_, day) => mean(({ weekday }) => weekday[day] ?? 1));
  const sum = factors.reduce((total, factor) => total + factor, 0);
  return {
    ...PUBLISHED_PRIOR,
    level,
    levelVariance: Math.max(between, LEAST_VARIANCE),
    spread: mean(({ spread }) => spread),
    weekday: factors.map((factor) => (factor * factors.length) / sum),
    leaving: mean(({ leaving }) => meanOf(leaving)),
    returning: mean(({ returning }) => meanOf(returning)),
  };
}

function meanOf(rates: readonly number[]): number {
  return rates.reduce((sum, rate) => sum + rate, 0) / rates.length;
}
