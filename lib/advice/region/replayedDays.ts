import { formatLocalDate } from '../../../shared/time/localDate.ts';
import type { ReplayedDays } from './unitWhatIf.ts';

/** Local days that were replayed, over the units whose past tells. */
export interface ReplayedOf {
  /** Of the unit in the middle, and of the one with the fewest. */
  readonly medianDays: number;
  readonly leastDays: number;
  /** Units with fewer than {@link NEARLY_A_YEAR_DAYS}. */
  readonly unitsShort: number;
  /** The first and the last day of the unit in the middle, YYYY-MM-DD. */
  readonly from: string;
  readonly to: string;
}

/** With fewer days than this a season is missing. A guess, no source. */
export const NEARLY_A_YEAR_DAYS = 330;

/** How many days a year rests on; null without any unit. */
export function replayedOf(units: readonly ReplayedDays[]): ReplayedOf | null {
  const sorted = [...units].sort((a, b) => a.days - b.days || a.from - b.from);
  const [least] = sorted;
  // Of two in the middle the shorter: rather a caution too many than one too few.
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  if (!least || !middle) return null;
  return {
    medianDays: middle.days,
    leastDays: least.days,
    unitsShort: sorted.filter(({ days }) => days < NEARLY_A_YEAR_DAYS).length,
    from: formatLocalDate(middle.from),
    to: formatLocalDate(middle.to),
  };
}
