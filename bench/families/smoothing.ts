import type { Family } from '../../lib/demand/backtest/family.ts';
import { weekdayOf } from '../../shared/time/localDate.ts';
import { HoltWinters } from './holtWinters.ts';
import { rootN } from './rootN.ts';

const GAINS = { level: 0.1, trend: 0, season: 0.06 };
const EVEN_WEEK = new Array<number>(7).fill(1);
const SPREAD_GAIN = 0.03;
const ERRORS_KEPT = 200;

/**
 * Exponential smoothing with a multiplicative weekday pattern; errors are scaled by a smoothed mean absolute deviation, which
 * outliers move little, and their own past quantiles make the interval.
 */
export const smoothing: Family = {
  name: 'exponential smoothing',
  begin: () => {
    let model: HoltWinters | undefined;
    let deviation = 0;
    let last = 0;
    const errors: number[] = [];
    return {
      observe: (date, gallons) => {
        last = date;
        if (!model) {
          model = new HoltWinters(GAINS, { level: gallons, trend: 0, season: EVEN_WEEK });
          deviation = gallons / 3;
          return;
        }
        const day = weekdayOf(date);
        const error = gallons - model.expected(day);
        if (deviation > 0) errors.push(error / deviation);
        if (errors.length > ERRORS_KEPT) errors.shift();
        model.observe(day, gallons);
        deviation += SPREAD_GAIN * (Math.abs(error) - deviation);
      },
      skip: (date) => {
        last = date;
      },
      quantiles: (days, probabilities) => {
        const sorted = [...errors].sort((a, b) => a - b);
        const mean = model?.expected(weekdayOf(last + 1)) ?? 0;
        const one = probabilities.map((p) =>
          Math.max(0, mean + deviation * (sorted[Math.floor(p * sorted.length)] ?? 0)),
        );
        return days === 1 ? one : rootN(days, model?.usual ?? 0, one);
      },
    };
  },
};
