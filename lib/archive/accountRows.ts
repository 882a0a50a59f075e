import type { Instant } from '../../shared/time/instant.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import type { KnownMonths } from '../salt/knownMonths.ts';
import { newMonth } from '../salt/monthAccount.ts';
import { daysIn, type RegionMonth, spanOf } from '../salt/regionAccounts.ts';
import { ACCOUNT_COLUMNS, type AccountRow } from './accountColumns.ts';
import { toParquet } from './parquet.ts';

/**
 * The units of a region in one of its months: those that have an account of it, and those that owed reports and gave
 * none. Added up, they are the region's row.
 *
 * @param known the units of the region, by id
 * @param until as of when; the end of the days that are owed
 */
export function accountRows(
  { month }: Pick<RegionMonth, 'month'>,
  known: readonly KnownMonths[],
  until: Instant,
): AccountRow[] {
  const empty = newMonth(firstOf(month));
  return known.flatMap(({ unit, months, firstDate }) => {
    const account = months.find((each) => each.month === month);
    const daysExpected = firstDate === undefined ? 0 : daysIn(empty, spanOf(unit, firstDate, until));
    if (!account && daysExpected === 0) return [];
    return [{ ...(account ?? empty), unitId: unit.unitId, daysExpected, asOf: until }];
  });
}

/** A file of month accounts. */
export function accountFile(rows: readonly AccountRow[]): Uint8Array {
  return toParquet(ACCOUNT_COLUMNS, rows);
}

function firstOf(month: string): LocalDate {
  return parseLocalDate(`${month}-01`) ?? 0;
}
