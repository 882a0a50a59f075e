import type { Instant } from '../../../shared/time/instant.ts';
import { daysOf, isRunning } from '../../../shared/time/month.ts';
import type { SaltAccount } from './saltAccount.ts';

/** With fewer of its days owed than this share, most units began within the month. A guess, no source. */
const FEW_OWED = 0.9;

/** How much of a month its sums are of. */
export type Wholeness = 'whole' | 'running' | 'begun-within';

/**
 * Whether a month's sums are of the whole month: it runs on until it is over in the last zone, and units that were added
 * within it owe only a part of it.
 */
export function wholeness(
  { month, units, daysExpected }: Pick<SaltAccount, 'month' | 'units' | 'daysExpected'>,
  at: Instant,
): Wholeness {
  if (isRunning(month, at)) return 'running';
  const { from, until } = daysOf(month);
  return daysExpected < FEW_OWED * units * (until - from) ? 'begun-within' : 'whole';
}
