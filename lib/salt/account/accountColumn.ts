import type { Column } from '../../table/column.ts';
import type { WasteCause } from '../waste.ts';
import type { SaltAccount } from './saltAccount.ts';

/**
 * Figures that are told or withheld together where accounts are shared, since one of them follows from the others, or
 * all are of the same few units. The drawn share, and the bounds that follow from it, are of all units of the company
 * that have level sensors. `key` is always told; whoever is not told `all` is told nothing else, and whoever is
 * not told `measured` is not told `imputed`.
 */
export type FigureGroup =
  | 'key'
  | 'all'
  | 'drawn-share'
  | 'measured'
  | 'imputed'
  | 'regeneration-water'
  | 'delivered'
  | 'hard-water'
  | 'as-set'
  | 'in-use'
  | `wasted-${WasteCause}`;

/** A column of the accounts that leave the system: of CSV, Parquet, the API, SQL and the dictionary. */
export interface AccountColumn extends Column<SaltAccount> {
  readonly type: 'text' | 'integer' | 'double' | 'timestamp';
  /** The member of the account that it tells of. */
  readonly member: keyof SaltAccount;
  /** What a 1 in it means. */
  readonly unit: string;
  /** Decimals in CSV; none for text. */
  readonly decimals?: number;
  /** From what and how it is worked out, and by whose figure. */
  readonly how: string;
  readonly group: FigureGroup;
  /**
   * The same in SQL, over `sum_X` for each X that is added up of `unit_months`, and over the columns of `estimates`.
   * Without it the column is one of `estimates`: no sum tells it.
   */
  readonly sql?: string;
}
