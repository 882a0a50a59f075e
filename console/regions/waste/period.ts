import type { Estimate } from '../../../lib/estimate/estimate.ts';
import { sumOfEstimates } from '../../../lib/estimate/interval.ts';
import type { WasteCause } from '../../../lib/salt/waste.ts';
import { WASTE_WORDS } from '../../../lib/salt/wasteWords.ts';
import { keysOf } from '../../../shared/records.ts';
import type { RegionMonth } from '../toldMonths.ts';

/** Salt that was not needed, of one cause. */
export interface Spent {
  readonly cause: WasteCause;
  readonly lb: number;
}

/** What some months come to, US units. */
export interface Period {
  readonly saltLb: Estimate;
  readonly deliveredSaltLb: number;
  /** By cause, the most first. */
  readonly wasted: readonly Spent[];
  readonly wastedLb: number;
  readonly hardDays: number;
  readonly hardGallons: number;
  /** Days of units with a report. */
  readonly daysCounted: number;
}

/** Adds up what months tell of where salt went. */
export function periodOf(months: readonly RegionMonth[]): Period {
  const sum = (of: (account: RegionMonth) => number) =>
    months.reduce((total, account) => total + of(account), 0);
  const wasted = keysOf(WASTE_WORDS)
    .map((cause) => ({ cause, lb: sum(({ wastedLb }) => wastedLb[cause]) }))
    .sort((a, b) => b.lb - a.lb);
  return {
    saltLb: sumOfEstimates(months.map(({ saltLb }) => saltLb)),
    deliveredSaltLb: sum(({ deliveredSaltLb }) => deliveredSaltLb),
    wasted,
    wastedLb: wasted.reduce((total, { lb }) => total + lb, 0),
    hardDays: sum(({ hardDays }) => hardDays),
    hardGallons: sum(({ hardGallons }) => hardGallons),
    daysCounted: sum(({ daysCounted }) => daysCounted),
  };
}
