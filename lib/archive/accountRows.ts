import { compareText } from '../../shared/compareText.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { UnitMonth } from '../salt/unitMonths.ts';
import { toParquet } from '../table/parquet.ts';
import { ACCOUNT_COLUMNS, type AccountRow } from './accountColumns.ts';

/** A unit's month as it is filed, all but when. */
export type FiledMonth = Omit<AccountRow, 'asOf'>;

/** The months of one unit as they are filed: each knows in which other regions the unit has a row of the same month. */
export function filedMonths(months: readonly UnitMonth[]): FiledMonth[] {
  const regions = new Map<string, Set<string>>();
  for (const { month, region } of months) {
    const known = regions.get(month) ?? new Set();
    regions.set(month, known.add(region));
  }
  return months.map((unit) => ({
    ...unit,
    regions: [...(regions.get(unit.month) ?? [])].sort(compareText).join(' '),
  }));
}

/** A file of month accounts of units of one region and month, which with those of the others there are the region’s. */
export function accountFile(rows: readonly FiledMonth[], asOf: Instant): Uint8Array {
  return toParquet(
    ACCOUNT_COLUMNS,
    rows.map((row) => ({ ...row, asOf })),
  );
}

/** What tells the rows of a file from any others, piece by piece; when they were written is no matter. */
export function* identityOfMonths(rows: readonly FiledMonth[]): Generator<string> {
  for (const row of rows) {
    const undated = { ...row, asOf: 0 };
    yield `${JSON.stringify(ACCOUNT_COLUMNS.map(({ of }) => of(undated) ?? null))}\n`;
  }
}
