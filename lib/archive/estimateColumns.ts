import { parseInstant } from '../../shared/time/instant.ts';
import type { AccountCells } from '../salt/account/accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from '../salt/account/columns.ts';
import type { Column } from '../table/column.ts';
import { toParquet } from '../table/parquet.ts';
import { PARTITION_NAMES } from './partition.ts';

/** What no sum over unit months tells of a region’s month: the drawn share, the bounds, the units that meet figures. */
export const ESTIMATE_COLUMNS: readonly Column<AccountCells>[] = SALT_ACCOUNT_COLUMNS.filter(
  ({ name, sql }) => sql === undefined && !PARTITION_NAMES.includes(name),
).map(({ name, type, about }) => ({
  ...{ name, type, about },
  of: (cells) => {
    const cell = cells[name] ?? null;
    return type === 'timestamp' && typeof cell === 'string' ? parseInstant(cell) : cell;
  },
}));

/** A file of what is estimated of one region and month. */
export function estimateFile(cells: AccountCells): Uint8Array {
  return toParquet(ESTIMATE_COLUMNS, [cells]);
}

/** What tells it from any other; when it was worked out is no matter. */
export function identityOfEstimate(cells: AccountCells): string {
  return JSON.stringify(
    ESTIMATE_COLUMNS.map(({ name }) => (name === 'as_of' ? null : (cells[name] ?? null))),
  );
}
