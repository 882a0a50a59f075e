import type { MonthAccount } from '../../salt/monthAccount.ts';
import { addWasted, type Wasted } from '../../salt/waste.ts';
import { DAYS_A_YEAR } from '../settings/pastUse.ts';

/** What a unit's month accounts tell of its last year. */
export interface LastYear
  extends Pick<MonthAccount, 'measuredSaltLb' | 'measuredDoseLb' | 'measuredVariance'> {
  /** Local days counted or estimated. */
  readonly days: number;
  /** Salt that was used, lb a year, by the rate of those days. */
  readonly saltLbAYear: number;
  /** Salt that was used in vain, lb, on those days. */
  readonly wasted: Wasted;
}

/** The last twelve months of a unit that there are accounts of, the one that runs among them; undefined without days. */
export function lastYear(months: readonly MonthAccount[]): LastYear | undefined {
  const until = Math.max(...months.map((month) => month.until));
  const last = months.filter(({ from }) => from >= until - DAYS_A_YEAR - 1);
  const sum = (of: (month: MonthAccount) => number) => last.reduce((total, month) => total + of(month), 0);
  const days = sum(({ daysCounted, daysImputed }) => daysCounted + daysImputed);
  if (days === 0) return undefined;
  const saltLb = sum((month) => month.measuredSaltLb + month.inferredSaltLb + month.imputedSaltLb);
  return {
    measuredSaltLb: sum((month) => month.measuredSaltLb),
    measuredDoseLb: sum((month) => month.measuredDoseLb),
    measuredVariance: sum((month) => month.measuredVariance),
    days,
    saltLbAYear: (Math.max(0, saltLb) * DAYS_A_YEAR) / days,
    wasted: last.reduce<Wasted>((total, { wasted }) => addWasted(total, wasted), {}),
  };
}
