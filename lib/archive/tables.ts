import type { NamedColumn } from '../table/column.ts';
import { ACCOUNT_COLUMNS } from './accountColumns.ts';
import { ESTIMATE_COLUMNS } from './estimateColumns.ts';
import { FACT_COLUMNS } from './factColumns.ts';
import type { ArchiveTable } from './partition.ts';

/** A table over the files of a folder, as SQL sees it. */
export interface SqlTable {
  readonly name: string;
  readonly about: string;
  readonly folder: ArchiveTable;
  readonly columns: readonly NamedColumn[];
}

/** The columns that a file's path gives, in its order. */
export const PARTITION_COLUMNS: readonly NamedColumn[] = [
  { name: 'company', type: 'text', about: 'the company' },
  { name: 'region', type: 'text', about: 'the region that the unit was in when the row was written' },
  { name: 'month', type: 'text', about: 'YYYY-MM of the site’s zone' },
];

/** What the views are made of. The rows are as they were written: copies, conflicts and old accounts among them. */
export const TABLES = {
  facts: {
    ...{ name: 'fact_copies', folder: 'facts', columns: FACT_COLUMNS },
    about: 'every accepted event, each time that it was accepted',
  },
  accounts: {
    ...{ name: 'account_copies', folder: 'accounts', columns: ACCOUNT_COLUMNS },
    about: 'month accounts of units, as they were worked out',
  },
  estimates: {
    ...{ name: 'estimate_copies', folder: 'estimates', columns: ESTIMATE_COLUMNS },
    about: 'what no sum tells of regions’ months, as it was worked out',
  },
} as const satisfies Record<ArchiveTable, SqlTable>;
