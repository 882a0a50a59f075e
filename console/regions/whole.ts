import { dateAt } from '../show/dates.ts';
import type { RegionMonth } from './toldMonths.ts';

/** The zone in which a day ends last of all. */
const LAST_ZONE = 'Etc/GMT+12';
/** With fewer of its days owed than this share, most units began within the month. A guess, no source. */
const FEW_OWED = 0.9;

/** How much of a month its sums are of. */
export type Wholeness = 'whole' | 'running' | 'begun-within';

/**
 * Whether a month's sums are of the whole month: it runs on until it is over in the last zone, and units that were added
 * within it owe only a part of it.
 *
 * @param now the service's clock, milliseconds since 1970
 */
export function wholeness({ month, units, daysExpected }: RegionMonth, now: number): Wholeness {
  if (month >= dateAt(now, LAST_ZONE).slice(0, 7)) return 'running';
  return daysExpected < FEW_OWED * units * daysIn(month) ? 'begun-within' : 'whole';
}

/** What is said of a month that is not whole. */
export const WHOLENESS_WORDS: Readonly<Record<Exclude<Wholeness, 'whole'>, string>> = {
  running: 'not over yet',
  'begun-within': 'watched for a part of it only',
};

function daysIn(month: string): number {
  const [year = 0, number = 1] = month.split('-').map(Number);
  return new Date(Date.UTC(year, number, 0)).getUTCDate();
}
