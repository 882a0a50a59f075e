import type { NamedColumn } from '../table/column.ts';

/** A view: one text of SQL that DuckDB and Athena (Trino) read alike. */
export interface SqlView {
  readonly name: string;
  readonly about: string;
  /** In the order in which the text gives them. */
  readonly columns: readonly NamedColumn[];
  readonly sql: string;
}

/** Of the rows that a window puts together, the first. */
export function first(columns: readonly NamedColumn[], from: string, window: string): string {
  return `select ${namesOf(columns)}
from (
  select ${namesOf(columns)}, row_number() over (${window}) as place
  from ${from}
) placed
where place = 1`;
}

/** Their names, as they are selected. */
export function namesOf(columns: readonly NamedColumn[]): string {
  return columns.map(({ name }) => name).join(', ');
}
