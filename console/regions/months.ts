import { monthsLater } from '../../shared/time/month.ts';
import { monthOf, type RegionMonth, type ToldMonth } from './toldMonths.ts';

export interface RegionMonths {
  readonly region: string;
  /** By month, the earliest first. */
  readonly months: readonly RegionMonth[];
}

/** A company's accounts. */
export interface Accounts {
  /** What was known until then is in them; RFC 3339. */
  readonly asOf: string;
  readonly regions: readonly RegionMonths[];
  /** All regions together: they have bounds of their own, since those of regions do not add up. */
  readonly all: readonly RegionMonth[];
}

interface ToldAccounts {
  readonly asOf: string;
  readonly items: readonly (ToldMonth & { readonly region: string })[];
  readonly totals: readonly ToldMonth[];
}

/** The accounts of an answer, by region. */
export function accountsOf({ asOf, items, totals }: ToldAccounts): Accounts {
  const regions = new Map<string, RegionMonth[]>();
  for (const told of items) {
    const months = regions.get(told.region) ?? [];
    months.push(monthOf(told));
    regions.set(told.region, months);
  }
  return {
    asOf,
    regions: [...regions].map(([region, months]) => ({ region, months: months.sort(byMonth) })),
    all: totals.map(monthOf).sort(byMonth),
  };
}

/** All months that occur, the earliest first. */
export function monthNames({ regions }: Accounts): readonly string[] {
  return [...new Set(regions.flatMap(({ months }) => months.map(({ month }) => month)))].sort();
}

/** The same month of the year before, `YYYY-MM`. */
export function yearBefore(month: string): string {
  return monthsLater(month, -12);
}

/** The months of a year that ends with one of them. */
export function yearUntil(months: readonly RegionMonth[], last: string): readonly RegionMonth[] {
  const before = yearBefore(last);
  return months.filter(({ month }) => month > before && month <= last);
}

function byMonth(a: RegionMonth, b: RegionMonth): number {
  return a.month < b.month ? -1 : 1;
}
