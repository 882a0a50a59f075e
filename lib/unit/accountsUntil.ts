import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { isKept, type MonthAccount } from '../salt/monthAccount.ts';
import { fillGap } from './fillGap.ts';
import { copyState, type UnitState } from './state.ts';

/** A unit that has been silent for longer is no longer estimated: it may be gone. */
const LONGEST_SILENCE_DAYS = 365;

/**
 * The account that runs, and those of the months since, with an estimate of every local day that is over and has no
 * report: as if the unit reported again now.
 */
export function accountsUntil(unit: Unit, state: UnitState, until: Instant): MonthAccount[] {
  const settled = copyState(state);
  const closed: MonthAccount[] = [];
  if (state.lastReported !== null) {
    const last = state.lastReported + LONGEST_SILENCE_DAYS;
    fillGap(unit, settled, Math.min(unit.zone.dateAt(until), last + 1), closed);
  }
  return isKept(settled.month) ? [...closed, settled.month] : closed;
}
