import type { Family } from '../../lib/demand/backtest/family.ts';
import { weekdayOf } from '../../shared/time/localDate.ts';
import { rootN } from './rootN.ts';

const LEVEL_GAIN = 0.1;
const WEEKDAY_GAIN = 0.06;
const SPREAD_GAIN = 0.03;
const ERRORS_KEPT = 200;

/**
 * Exponential smoothing with a multiplicative weekday pattern; errors are scaled by a smoothed mean absolute deviation, which
 * outliers move little, and their own past quantiles make the interval.
 */
export const smoothing: Family = {
  name: 'exponential smoothing',
  begin: () => {
    let level = 0;
    let deviation = 0;
    let last = 0;
    const week = new Array<number>(7).fill(1);
    const errors: number[] = [];
    const expected = (date: number) => level * (week[weekdayOf(date)] ?? 1);
    return {
      observe: (date, gallons) => {
        last = date;
        if (level === 0) {
          level = gallons;
          deviation = gallons / 3;
          return;
        }
        const error = gallons - expected(date);
        if (deviation > 0) errors.push(error / deviation);
        if (errors.length > ERRORS_KEPT) errors.shift();
        const day = weekdayOf(date);
        const factor = week[day] ?? 1;
        week[day] = factor + (WEEKDAY_GAIN * error) / Math.max(level, 1);
        level = Math.max(0.01, level + (LEVEL_GAIN * error) / Math.max(factor, 0.2));
        deviation += SPREAD_GAIN * (Math.abs(error) - deviation);
      },
      skip: (date) => {
        last = date;
      },
      quantiles: (days, probabilities) => {
        const sorted = [...errors].sort((a, b) => a - b);
        const mean = expected(last + 1);
        const one = probabilities.map((p) =>
          Math.max(0, mean + deviation * (sorted[Math.floor(p * sorted.length)] ?? 0)),
        );
        return days === 1 ? one : rootN(days, level, one);
      },
    };
  },
};
