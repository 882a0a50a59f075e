import type { RegionMonth } from './toldMonths.ts';

/**
 * How a part of a figure is known: by what was reported, by what is on record of it, by an estimate in the place of
 * what was not reported, or not at all.
 */
export type Part = 'known' | 'inferred' | 'estimated' | 'missing';

/** A part of a figure: an amount, or a share of 1. */
export interface PartOf {
  readonly part: Part;
  readonly value: number;
}

/** What the parts of a figure are called; those that it cannot have are left out. */
export type PartWords = Readonly<Partial<Record<Part, string>>>;

/** How salt is known, and so what is worked out of it: chloride, sodium, efficiency. lb. */
export function saltParts(account: RegionMonth): readonly PartOf[] {
  return [
    { part: 'known', value: account.measuredSaltLb },
    { part: 'inferred', value: account.inferredSaltLb },
    { part: 'estimated', value: account.imputedSaltLb },
  ];
}

/** How the days are known of which a unit owed a report. */
export function dayParts({ daysExpected, daysCounted, daysImputed }: RegionMonth): readonly PartOf[] {
  return [
    { part: 'known', value: daysCounted },
    { part: 'estimated', value: daysImputed },
    { part: 'missing', value: daysExpected - daysCounted - daysImputed },
  ];
}

/**
 * Parts as shares that make up 1; undefined where there is nothing to part. Noise of a level's sensor can make a small
 * sum negative: there is no such share.
 */
export function sharesOf(parts: readonly PartOf[]): readonly PartOf[] | undefined {
  const amounts = parts.map(({ part, value }) => ({ part, value: Math.max(0, value) }));
  const all = amounts.reduce((sum, { value }) => sum + value, 0);
  if (all === 0) return undefined;
  return amounts.map(({ part, value }) => ({ part, value: value / all }));
}
