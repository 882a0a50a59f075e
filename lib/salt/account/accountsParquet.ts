import { parseInstant } from '../../../shared/time/instant.ts';
import type { Column } from '../../table/column.ts';
import { toParquet } from '../../table/parquet.ts';
import type { AccountCells } from './accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from './columns.ts';
import { SUPPRESSED_COLUMN } from './shared.ts';

/**
 * Writes accounts as Apache Parquet, not rounded.
 *
 * @param isShared whether they are those that are shared, with a column that says what is withheld
 */
export function accountsParquet(items: readonly AccountCells[], { isShared = false } = {}): Uint8Array {
  const columns = isShared ? [...SALT_ACCOUNT_COLUMNS, SUPPRESSED_COLUMN] : SALT_ACCOUNT_COLUMNS;
  return toParquet(
    columns.map(({ name, type, about, always, group }): Column<AccountCells> => {
      const isAlways = always && (!isShared || group === 'key');
      return {
        ...{ name, type, about, ...(isAlways && { always }) },
        of: (cells) => {
          const cell = cells[name] ?? null;
          return type === 'timestamp' && typeof cell === 'string' ? parseInstant(cell) : cell;
        },
      };
    }),
    items,
  );
}
