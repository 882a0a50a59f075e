import { formatInstant, type Instant } from '../../../shared/time/instant.ts';
import type { FigureGroup } from './accountColumn.ts';
import { SALT_ACCOUNT_COLUMNS } from './columns.ts';
import type { SaltAccount } from './saltAccount.ts';

/** What stands in a column: a number, text, an instant as RFC 3339 writes it; null where there is nothing to tell. */
export type Cell = string | number | null;

/** A region's month, by the names of the columns. */
export type AccountCells = Readonly<Record<string, Cell>>;

/**
 * Why a figure is not told where accounts are shared:
 *
 * - `month-open`: the month is not over for long enough; what comes day by day would tell days
 * - `few-units`: it is of fewer units than the rules want
 * - `one-unit`: one unit makes most of it, or two make nearly all of it, so that one of them could work out the other
 * - `beside-another`: else what is not told of another region could be had by subtraction
 */
export type WithheldReason = 'month-open' | 'few-units' | 'one-unit' | 'beside-another';

/** What is not told of a region's month where accounts are shared. */
export type Withheld = Readonly<Partial<Record<FigureGroup, WithheldReason>>>;

/** The accounts of a company as they are kept, with what of them is not to be shared. */
export interface AccountsFile {
  readonly asOf: Instant;
  /** By region and month. */
  readonly items: readonly AccountCells[];
  /** Of all regions together, by month; they have no region. */
  readonly totals: readonly AccountCells[];
  /** Of each item, in their order. */
  readonly withheld: readonly Withheld[];
}

/** The cells of an account, not rounded. */
export function cellsOf(account: SaltAccount): AccountCells {
  return Object.fromEntries(
    SALT_ACCOUNT_COLUMNS.map(({ name, type, of }): [string, Cell] => {
      const value = of(account);
      if (typeof value === 'number') return [name, type === 'timestamp' ? formatInstant(value) : value];
      return [name, typeof value === 'string' ? value : null];
    }),
  );
}

/** The cells of all regions together. */
export function totalCellsOf(account: SaltAccount): AccountCells {
  const { region: _, ...cells } = cellsOf(account);
  return cells;
}
