import { ByteWriter, type ParquetWriteOptions, parquetWrite } from 'hyparquet-writer';
import type { Column, ColumnType } from './column.ts';

type SchemaElement = NonNullable<ParquetWriteOptions['schema']>[number];

/** Rows of a row group. One is some hundred kilobytes of events: what a reader of a few units must read at least. */
const ROWS_A_GROUP = 5_000;
/** The longest id, so that the least and greatest of a row group stand whole. */
const LONGEST_ID = 64;

const ELEMENTS: Readonly<Record<ColumnType, Omit<SchemaElement, 'name'>>> = {
  text: { type: 'BYTE_ARRAY', converted_type: 'UTF8' },
  integer: { type: 'INT32' },
  count: { type: 'INT64' },
  double: { type: 'DOUBLE' },
  boolean: { type: 'BOOLEAN' },
  timestamp: { type: 'INT64', converted_type: 'TIMESTAMP_MILLIS' },
  date: { type: 'INT32', converted_type: 'DATE' },
};

/** Writes rows, in their order, as Apache Parquet: row groups with the least and greatest of each short column. */
export function toParquet<Row>(columns: readonly Column<Row>[], rows: readonly Row[]): Uint8Array {
  const writer = new ByteWriter();
  parquetWrite({
    writer,
    schema: [{ name: 'root', num_children: columns.length }, ...columns.map(elementOf)],
    columnData: columns.map(({ name, of, long }) => ({
      name,
      data: rows.map((row) => of(row) ?? null),
      // Nor is it ever the same twice, so that no dictionary need be tried.
      ...(long && { statistics: false, encoding: 'PLAIN' as const }),
    })),
    rowGroupSize: ROWS_A_GROUP,
    statisticsTruncateLength: LONGEST_ID,
    createdBy: 'brinebell',
  });
  return writer.getBytes();
}

function elementOf<Row>({ name, type, always }: Column<Row>): SchemaElement {
  return { name, repetition_type: always ? 'REQUIRED' : 'OPTIONAL', ...ELEMENTS[type] };
}
