import type { SaltAccount } from '../../lib/salt/account/saltAccount.ts';

/** The account of one month, of one region or of all of them together, as the service tells it. US units. */
export interface MonthAccount extends Omit<SaltAccount, 'region' | 'asOf'> {
  /** Facts known until then are in it; RFC 3339. */
  readonly asOf: string;
}

export interface RegionMonths {
  readonly region: string;
  /** By month, the earliest first. */
  readonly months: readonly MonthAccount[];
}

/** A company's accounts. */
export interface Accounts {
  readonly regions: readonly RegionMonths[];
  /** All regions together: they have intervals of their own, since those of regions do not add up. */
  readonly all: readonly MonthAccount[];
}

/** The regions of an answer, each with its months. */
export function accountsOf({
  items,
  totals,
}: {
  readonly items: readonly (MonthAccount & { readonly region: string })[];
  readonly totals: readonly MonthAccount[];
}): Accounts {
  const regions = new Map<string, MonthAccount[]>();
  for (const { region, ...account } of items) {
    const months = regions.get(region) ?? [];
    months.push(account);
    regions.set(region, months);
  }
  return {
    regions: [...regions].map(([region, months]) => ({ region, months: months.sort(byMonth) })),
    all: [...totals].sort(byMonth),
  };
}

/** All months that occur, the earliest first. */
export function monthNames({ regions }: Accounts): readonly string[] {
  return [...new Set(regions.flatMap(({ months }) => months.map(({ month }) => month)))].sort();
}

/** The same month of the year before, `YYYY-MM`. */
export function yearBefore(month: string): string {
  return `${String(Number(month.slice(0, 4)) - 1).padStart(4, '0')}${month.slice(4)}`;
}

/** The months of a year that ends with one of them. */
export function yearUntil(months: readonly MonthAccount[], last: string): readonly MonthAccount[] {
  const before = yearBefore(last);
  return months.filter(({ month }) => month > before && month <= last);
}

function byMonth(a: MonthAccount, b: MonthAccount): number {
  return a.month < b.month ? -1 : 1;
}
