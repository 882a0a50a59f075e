import { stringify } from 'csv-stringify/sync';
import type { AccountCells } from './accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from './columns.ts';
import { SUPPRESSED_COLUMN } from './shared.ts';

/**
 * Writes accounts as RFC 4180 CSV, in UTF-8, with units in the names of its header; what is not there is left empty.
 *
 * @param isShared whether they are those that are shared, with a column that says what is withheld
 */
export function accountsCsv(items: readonly AccountCells[], { isShared = false } = {}): string {
  const columns = isShared ? [...SALT_ACCOUNT_COLUMNS, SUPPRESSED_COLUMN] : SALT_ACCOUNT_COLUMNS;
  const decimals = new Map(columns.map((column) => [column.name, column.decimals ?? 0]));
  return stringify([...items], {
    header: true,
    columns: columns.map(({ name }) => name),
    record_delimiter: 'windows',
    cast: {
      number: (value, { column }) => String(Number(value.toFixed(decimals.get(String(column)) ?? 0))),
    },
  });
}
