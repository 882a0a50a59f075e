import { type UsedDay, useOf } from './usedDay.ts';

/** A forecast of the use of the next so many days together, as one number of US gallons; it stays what it was. */
export type PointForecast = (days: number) => number;

/**
 * How far a rule's forecasts were off so far, for any number of days together: only what had come whole by now, and
 * only days that were all reported.
 */
export class PastErrors {
  readonly #record: UsedDay[] = [];
  readonly #forecasts: (PointForecast | undefined)[] = [];
  /** By number of days: the errors, rising, and the first reported day that was not yet looked at. */
  readonly #byDays = new Map<number, { sorted: number[]; next: number }>();

  /** Takes in a reported day, with what was forecast from its eve; undefined where the rule could not say. */
  add(day: UsedDay, forecast: PointForecast | undefined): void {
    this.#record.push(day);
    this.#forecasts.push(forecast);
  }

  /** What came less what was forecast, US gallons, rising. */
  of(days: number): readonly number[] {
    const errors = this.#byDays.get(days) ?? { sorted: [], next: 0 };
    this.#byDays.set(days, errors);
    for (; errors.next + days <= this.#record.length; errors.next++) {
      const forecast = this.#forecasts[errors.next];
      const gallons = useOf(this.#record, errors.next, days);
      if (forecast && gallons !== undefined) insert(errors.sorted, gallons - forecast(days));
    }
    return errors.sorted;
  }
}

/** The empirical quantile: of n values, rising, the one that floor(p n) others stand before; undefined without any. */
export function empiricalQuantile(sorted: readonly number[], p: number): number | undefined {
  return sorted[Math.min(sorted.length - 1, Math.floor(p * sorted.length))];
}

function insert(sorted: number[], value: number): void {
  let low = 0;
  let high = sorted.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((sorted[middle] ?? Infinity) <= value) low = middle + 1;
    else high = middle;
  }
  sorted.splice(low, 0, value);
}
