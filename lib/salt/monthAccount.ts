import { recordOf } from '../../shared/records.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { wholeMonth } from '../../shared/time/month.ts';
import { type Regional, tenureAt } from './tenure.ts';
import type { Wasted } from './waste.ts';

/**
 * One unit's salt account of one month of its site's zone, in one region: what was reported, and, apart from it, what
 * stands for days that were not. Of a month in which the unit moved there is one for each region.
 */
export interface MonthAccount {
  /** `YYYY-MM`. */
  month: string;
  /** The region that the unit was counted in. */
  region: string;
  /** The first local day that it is about and the first after it: those of the month, or of the unit's time in the region. */
  from: LocalDate;
  until: LocalDate;
  /** Salt of a regeneration as set at its end, lb; null before anything was reported. */
  saltDoseLb: number | null;
  /** Local days whose flow day was counted. */
  daysCounted: number;
  /** Local days without one, on which the unit owed one, that are estimated. */
  daysImputed: number;
  /** Regenerations as reported. */
  regenerations: number;
  /** Those expected among days without a report, that nobody reported; a number with decimals over a long silence. */
  regenerationsImputed: number;
  /** Treated water as metered, US gallons; and as expected on the days imputed, with the variance of that, gal². */
  treatedGallons: number;
  imputedGallons: number;
  imputedGallonsVariance: number;
  /** Water that came through hard, since the bed had run out, US gallons, and the local days on which some did. */
  hardGallons: number;
  hardDays: number;
  /** Salt used, by tank level before and after, lb. Sensor noise makes one regeneration wrong and the sum right. */
  measuredSaltLb: number;
  /** Variance of that by the sensor's noise, lb². */
  measuredVariance: number;
  /** The doses of the same regenerations, lb: over them one sees what a dose on record comes to. */
  measuredDoseLb: number;
  /** Salt used, by dose where no level was read, lb. */
  inferredSaltLb: number;
  /** Salt by dose of the regenerations imputed, lb, and its variance, lb². */
  imputedSaltLb: number;
  imputedSaltVariance: number;
  /** Salt that the company brought, by its technicians' visits, lb. */
  deliveredSaltLb: number;
  /** Water that the regenerations used, as metered: nothing where the control does not say. */
  regenerationGallons: number;
  /** The same by the published figure, of those that did not say and those imputed. */
  inferredRegenerationGallons: number;
  /** Hardness taken out of the treated water while the bed had capacity left, as CaCO3; and out of what is imputed. */
  grainsRemoved: number;
  imputedGrains: number;
  /** Salt used that the water would not have needed, by what it was spent on. */
  wasted: Wasted;
}

/** What is added up, of two accounts or of many. In this order an account has it, and stored ones go by that. */
export const SUMMED = [
  'daysCounted',
  'daysImputed',
  'regenerations',
  'regenerationsImputed',
  'treatedGallons',
  'imputedGallons',
  'imputedGallonsVariance',
  'hardGallons',
  'hardDays',
  'measuredSaltLb',
  'measuredVariance',
  'measuredDoseLb',
  'inferredSaltLb',
  'imputedSaltLb',
  'imputedSaltVariance',
  'deliveredSaltLb',
  'regenerationGallons',
  'inferredRegenerationGallons',
  'grainsRemoved',
  'imputedGrains',
] as const satisfies readonly (keyof MonthAccount)[];

/** Such sums, by their names. */
export type Sums = Record<(typeof SUMMED)[number], number>;

/** Nothing of any of it. */
export const NO_SUMS: Readonly<Sums> = recordOf(SUMMED, () => 0);

/**
 * An empty account of the month that a local day lies in.
 *
 * @param saltDoseLb salt of a regeneration as set, lb, once anything was reported
 */
export function newMonth(date: LocalDate, unit: Regional, saltDoseLb: number | null = null): MonthAccount {
  const tenure = tenureAt(unit, date);
  const { month, from, until } = wholeMonth(date);
  return {
    month,
    region: tenure.region,
    from: Math.max(from, tenure.from),
    until: Math.min(until, tenure.until),
    saltDoseLb,
    daysCounted: 0,
    daysImputed: 0,
    regenerations: 0,
    regenerationsImputed: 0,
    treatedGallons: 0,
    imputedGallons: 0,
    imputedGallonsVariance: 0,
    hardGallons: 0,
    hardDays: 0,
    measuredSaltLb: 0,
    measuredVariance: 0,
    measuredDoseLb: 0,
    inferredSaltLb: 0,
    imputedSaltLb: 0,
    imputedSaltVariance: 0,
    deliveredSaltLb: 0,
    regenerationGallons: 0,
    inferredRegenerationGallons: 0,
    grainsRemoved: 0,
    imputedGrains: 0,
    wasted: {},
  };
}

/** A copy that shares nothing that is written to. */
export function copyMonth(account: MonthAccount): MonthAccount {
  return {
    month: account.month,
    region: account.region,
    from: account.from,
    until: account.until,
    saltDoseLb: account.saltDoseLb,
    daysCounted: account.daysCounted,
    daysImputed: account.daysImputed,
    regenerations: account.regenerations,
    regenerationsImputed: account.regenerationsImputed,
    treatedGallons: account.treatedGallons,
    imputedGallons: account.imputedGallons,
    imputedGallonsVariance: account.imputedGallonsVariance,
    hardGallons: account.hardGallons,
    hardDays: account.hardDays,
    measuredSaltLb: account.measuredSaltLb,
    measuredVariance: account.measuredVariance,
    measuredDoseLb: account.measuredDoseLb,
    inferredSaltLb: account.inferredSaltLb,
    imputedSaltLb: account.imputedSaltLb,
    imputedSaltVariance: account.imputedSaltVariance,
    deliveredSaltLb: account.deliveredSaltLb,
    regenerationGallons: account.regenerationGallons,
    inferredRegenerationGallons: account.inferredRegenerationGallons,
    grainsRemoved: account.grainsRemoved,
    imputedGrains: account.imputedGrains,
    wasted: account.wasted,
  };
}

/** Whether a local day lies in an account's month and region. */
export function isInMonth(account: Pick<MonthAccount, 'from' | 'until'>, date: LocalDate): boolean {
  return date >= account.from && date < account.until;
}

/** Whether anything of the unit was reported in it. */
export function isReported({ daysCounted, regenerations }: MonthAccount): boolean {
  return daysCounted > 0 || regenerations > 0;
}

/** Whether there is anything in it. */
export function isKept(account: MonthAccount): boolean {
  return isReported(account) || account.daysImputed > 0 || account.deliveredSaltLb > 0;
}
