import { type LocalDate, monthOf } from '../../shared/time/localDate.ts';

/** One unit's salt account of one month of its site's zone. */
export interface MonthAccount {
  /** `YYYY-MM`. */
  month: string;
  /** The first local day of that month and of the next. */
  from: LocalDate;
  until: LocalDate;
  /** Local days of the month whose flow day was counted. */
  daysCounted: number;
  regenerations: number;
  treatedGallons: number;
  /** Salt used, by tank level before and after. Sensor noise makes one regeneration wrong and the sum right. */
  measuredSaltLb: number;
  /** Salt used, by dose where no level was read. */
  inferredSaltLb: number;
  /** Water that the regenerations used, as metered: nothing where the control does not say. */
  regenerationGallons: number;
  /** Hardness taken out of the treated water while the bed had capacity left, as CaCO3. */
  grainsRemoved: number;
}

/** An empty account of the month that a local day lies in. */
export function newMonth(date: LocalDate): MonthAccount {
  const month = monthOf(date);
  const [year = 0, number = 1] = month.split('-').map(Number);
  return {
    month,
    from: Date.UTC(year, number - 1) / 86_400_000,
    until: Date.UTC(year, number) / 86_400_000,
    daysCounted: 0,
    regenerations: 0,
    treatedGallons: 0,
    measuredSaltLb: 0,
    inferredSaltLb: 0,
    regenerationGallons: 0,
    grainsRemoved: 0,
  };
}

/** Whether a local day lies in an account's month. */
export function isInMonth(account: MonthAccount, date: LocalDate): boolean {
  return date >= account.from && date < account.until;
}
