import type { MonthSum } from './months.ts';

/** How a figure is known: shares that make up 1. */
export interface Shares {
  readonly measured: number;
  readonly inferred: number;
  readonly missing: number;
}

/**
 * Of the days that reports are owed for, those missing; the rest is split as the salt is: by tank levels before and
 * after, or by the dose that the control is set to. Undefined where nothing is owed.
 */
export function saltShares(sum: MonthSum): Shares | undefined {
  const days = dayShares(sum);
  if (!days) return undefined;
  // Noise of a level's sensor can make a small sum negative: there is no such share.
  const measured = Math.max(0, sum.saltMeasuredLb);
  const inferred = Math.max(0, sum.saltInferredLb);
  const salt = measured + inferred;
  if (salt === 0) return days;
  return {
    measured: days.measured * (measured / salt),
    inferred: days.measured * (inferred / salt),
    missing: days.missing,
  };
}

/** Of what is metered nothing is inferred: a day is reported or missing. */
export function dayShares({ daysReported, daysMissing }: MonthSum): Shares | undefined {
  const owed = daysReported + daysMissing;
  if (owed === 0) return undefined;
  return { measured: daysReported / owed, inferred: 0, missing: daysMissing / owed };
}
