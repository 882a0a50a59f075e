import type { Instant } from '../../shared/time/instant.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';

/** What a column holds: a `timestamp` is an instant as UTC shows it, a `date` a local date. */
export type ColumnType = 'text' | 'integer' | 'count' | 'double' | 'boolean' | 'timestamp' | 'date';

/** A column as people see it. */
export interface NamedColumn {
  readonly name: string;
  readonly type: ColumnType;
  /** What is in it, with its unit. */
  readonly about: string;
}

/** A column of files, and how it is got from what a row is made of. */
export interface Column<Row> extends NamedColumn {
  /** Whether every row has it. */
  readonly always?: true;
  /** Whether it is long text, by whose least and greatest nobody looks for anything. */
  readonly long?: true;
  of(row: Row): string | number | boolean | Instant | LocalDate | null | undefined;
}

interface TypeNames {
  /** In the catalogue, which is Hive's. */
  readonly hive: string;
  /** In Athena, which is Trino. */
  readonly trino: string;
  readonly duckdb: string;
}

/** What each type is called elsewhere. */
export const TYPE_NAMES: Readonly<Record<ColumnType, TypeNames>> = {
  text: { hive: 'string', trino: 'varchar', duckdb: 'varchar' },
  integer: { hive: 'int', trino: 'integer', duckdb: 'integer' },
  /** A count over rows. */
  count: { hive: 'bigint', trino: 'bigint', duckdb: 'bigint' },
  double: { hive: 'double', trino: 'double', duckdb: 'double' },
  boolean: { hive: 'boolean', trino: 'boolean', duckdb: 'boolean' },
  timestamp: { hive: 'timestamp', trino: 'timestamp(3)', duckdb: 'timestamp' },
  date: { hive: 'date', trino: 'date', duckdb: 'date' },
};
