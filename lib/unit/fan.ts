import type { LocalDate } from '../../shared/time/localDate.ts';
import { invert } from '../demand/backtest/invert.ts';
import { nextDayQuantiles } from '../demand/predictive.ts';
import { useAhead } from '../demand/useAhead.ts';
import { remainingGallons } from './outlook.ts';
import type { UnitState } from './state.ts';

/** What the bed will have left at the end of a day to come, if nothing regenerates it, US gallons. */
export interface FanDay {
  readonly date: LocalDate;
  /** Below this with 10, 50 and 90 % probability; 0 where it has run out. */
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

const MOST_DAYS = 28;
const PROBABILITIES = [0.1, 0.5, 0.9] as const;

/**
 * How a bed goes down in the days after the last one counted, `asOf`: until it has run out with 90 % probability, and four
 * weeks at most. Empty where nothing is left.
 */
export function fanOf(state: UnitState, asOf: LocalDate): FanDay[] {
  const { household } = state;
  const remaining = remainingGallons(state);
  const fan: FanDay[] = [];
  for (let day = 1; day <= MOST_DAYS && (fan.at(-1)?.p90 ?? remaining) > 0; day++) {
    const ahead = useAhead(household, asOf);
    const used =
      day === 1
        ? nextDayQuantiles(household, asOf, PROBABILITIES)
        : invert((gallons) => ahead.reaches(day, gallons), PROBABILITIES, ahead.mean(day));
    const left = used.map((gallons) => Math.max(0, remaining - gallons));
    fan.push({ date: asOf + day, p10: left[2] ?? 0, p50: left[1] ?? 0, p90: left[0] ?? 0 });
  }
  return fan;
}
