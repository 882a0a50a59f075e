import { DemandError } from '../household.ts';
import { mase } from '../scores.ts';
import { type UsedDay, useOf } from './usedDay.ts';

const WEEK = 7;

/**
 * Mean absolute scaled error of forecasts of some days together: over the mean absolute difference between such sums in
 * the training days and the same days a week before (as many weeks as it takes for the two not to overlap).
 *
 * @returns null where the training days have no such pair, or all of them are alike
 */
export function scaledError(
  training: readonly UsedDay[],
  days: number,
  forecasts: readonly number[],
  actuals: readonly number[],
): number | null {
  const lag = WEEK * Math.ceil(days / WEEK);
  const placeOf = new Map(training.map(({ date }, index) => [date, index]));
  const before: number[] = [];
  const after: number[] = [];
  training.forEach(({ date }, index) => {
    const later = useOf(training, index, days);
    const earlier = useOf(training, placeOf.get(date - lag) ?? training.length, days);
    if (later === undefined || earlier === undefined) return;
    before.push(earlier);
    after.push(later);
  });
  if (after.length === 0) return null;
  try {
    // The pairs one after the other, so that the lag between the two of a pair is the number of them.
    return mase([...before, ...after], forecasts, actuals, after.length);
  } catch (error) {
    if (error instanceof DemandError && error.code === 'undefined-score') return null;
    throw error;
  }
}
