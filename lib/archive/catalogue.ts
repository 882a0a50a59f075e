import { type NamedColumn, TYPE_NAMES } from '../table/column.ts';
import type { SqlView } from './sqlView.ts';
import { PARTITION_COLUMNS, TABLES } from './tables.ts';
import { VIEWS } from './views.ts';

/** A column as the Glue catalogue has it. */
export interface CatalogueColumn {
  readonly name: string;
  /** Hive's name of the type. */
  readonly type: string;
  readonly comment: string;
}

/** An external table over Parquet files. */
export interface CatalogueTable {
  readonly name: string;
  readonly description: string;
  /** What the paths of its files begin with, with `/` at the end: of the bucket, `s3://BUCKET/PREFIX`. */
  readonly prefix: string;
  readonly columns: readonly CatalogueColumn[];
  readonly partitionKeys: readonly CatalogueColumn[];
  readonly parameters: Readonly<Record<string, string>>;
}

/** How files of Parquet are read and written, in the words of Hive. */
export const PARQUET_STORAGE = {
  inputFormat: 'org.apache.hadoop.hive.ql.io.parquet.MapredParquetInputFormat',
  outputFormat: 'org.apache.hadoop.hive.ql.io.parquet.MapredParquetOutputFormat',
  serializationLibrary: 'org.apache.hadoop.hive.ql.io.parquet.serde.ParquetHiveSerDe',
} as const;

/** A view, all but the name of its database, which {@link viewText} needs. */
export interface CatalogueView {
  readonly name: string;
  readonly description: string;
  readonly tableType: 'VIRTUAL_VIEW';
  readonly columns: readonly CatalogueColumn[];
  readonly parameters: Readonly<Record<string, string>>;
  readonly viewExpandedText: string;
}

/** The tables of the catalogue. Partitions are told to it one by one: see docs/decisions/0018-archive.md. */
export const CATALOGUE_TABLES: readonly CatalogueTable[] = Object.values(TABLES).map(
  ({ name, about, folder, columns }) => ({
    name,
    description: about,
    prefix: `${folder}/`,
    columns: columns.map(toColumn),
    partitionKeys: PARTITION_COLUMNS.map(toColumn),
    parameters: { classification: 'parquet', EXTERNAL: 'TRUE' },
  }),
);

/** The views of the catalogue, each after those that it is made of. */
export const CATALOGUE_VIEWS: readonly CatalogueView[] = VIEWS.map(({ name, about, columns }) => ({
  name,
  description: about,
  tableType: 'VIRTUAL_VIEW',
  columns: columns.map(toColumn),
  parameters: { presto_view: 'true', comment: 'Presto View' },
  viewExpandedText: '/* Presto View */',
}));

/**
 * The text by which Athena knows a view: base64 of JSON in a comment. AWS documents it nowhere; it is what its own
 * `create view` leaves in the catalogue, and what others write (stackoverflow.com/a/56347331; Trino's
 * `ViewReaderUtil.encodeViewData`).
 *
 * @param database the catalogue's database, in which the tables are, too; its very name, since no placeholder of a
 * template outlasts base64
 * @throws RangeError if there is no such view
 */
export function viewText(name: string, database: string): string {
  const { sql, columns } = viewNamed(name);
  const view = {
    originalSql: sql,
    catalog: 'awsdatacatalog',
    schema: database,
    columns: columns.map((column) => ({ name: column.name, type: TYPE_NAMES[column.type].trino })),
  };
  // All of it is ASCII, which is as far as btoa goes.
  return `/* Presto View: ${btoa(JSON.stringify(view))} */`;
}

function viewNamed(name: string): SqlView {
  const view = VIEWS.find((each) => each.name === name);
  if (!view) throw new RangeError(`there is no view ${name}`);
  return view;
}

function toColumn({ name, type, about }: NamedColumn): CatalogueColumn {
  return { name, type: TYPE_NAMES[type].hive, comment: about };
}
