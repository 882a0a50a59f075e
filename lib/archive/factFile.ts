import { type FileMetaData, parquetMetadataAsync, parquetReadObjects } from 'hyparquet';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { toParquet } from '../table/parquet.ts';
import { ArchiveError } from './errors.ts';
import { FACT_COLUMNS } from './factColumns.ts';
import type { ArchivedFact, FactRow } from './factRow.ts';
import type { ArchiveFile } from './files.ts';

/** Units by their ids, both ends in it; ids are compared character by character. */
export interface UnitRange {
  readonly from: string;
  readonly to: string;
}

/** What a reader asks for first, bytes: the footer of most files. */
const FOOTER_BYTES = 1 << 16;
const NAME = /^(\d{1,9})-[0-9a-f]{32}\.parquet$/;

/** A file of facts. Its rows are in order, so that those of a few units lie in few of its row groups. */
export function factFile(rows: readonly FactRow[]): Uint8Array {
  return toParquet(FACT_COLUMNS, rows);
}

/**
 * The name of a file of facts: it follows from its rows, so that who writes them again overwrites it, and tells how many
 * they are.
 *
 * @param digest 32 hexadecimal digits that follow from what {@link identityOf} gives
 */
export function factFileName(rows: readonly FactRow[], digest: string): string {
  return `${rows.length}-${digest}.parquet`;
}

/** What tells the rows of a file from any others, piece by piece. */
export function* identityOf(rows: readonly FactRow[]): Generator<string> {
  for (const { unitId, localDate, line } of rows) yield `${unitId} ${localDate} ${line}\n`;
}

/** How many rows a file has, by its name; undefined where the name is none of ours. */
export function rowsIn(path: string): number | undefined {
  const rows = NAME.exec(path.slice(path.lastIndexOf('/') + 1))?.[1];
  return rows === undefined ? undefined : Number(rows);
}

/**
 * Reads facts, row group by row group, and of those only the ones that may have units of the range.
 *
 * @throws ArchiveError if the file is none that we wrote
 */
export async function* factsIn(file: ArchiveFile, range?: UnitRange): AsyncGenerator<ArchivedFact[]> {
  const metadata = await parquetMetadataAsync(file, { initialFetchSize: FOOTER_BYTES });
  let rowStart = 0;
  for (const group of metadata.row_groups) {
    const rowEnd = rowStart + Number(group.num_rows);
    if (mayHold(group, range)) {
      const rows = await parquetReadObjects({
        ...{ file, metadata, rowStart, rowEnd },
        columns: ['unit_id', 'local_date', 'event'],
      });
      const facts = rows.map(toFactOf);
      yield range ? facts.filter(({ unitId }) => unitId >= range.from && unitId <= range.to) : facts;
    }
    rowStart = rowEnd;
  }
}

function mayHold({ columns }: FileMetaData['row_groups'][number], range: UnitRange | undefined): boolean {
  if (!range) return true;
  const units = columns.find(({ meta_data }) => meta_data?.path_in_schema[0] === 'unit_id')?.meta_data;
  const least = units?.statistics?.min_value;
  const greatest = units?.statistics?.max_value;
  if (typeof least !== 'string' || typeof greatest !== 'string') return true;
  return least <= range.to && greatest >= range.from;
}

function toFactOf(row: Readonly<Record<string, unknown>>): ArchivedFact {
  const { unit_id: unitId, local_date: date, event: line } = row;
  const localDate = date instanceof Date ? parseLocalDate(date.toISOString().slice(0, 10)) : undefined;
  if (typeof unitId !== 'string' || typeof line !== 'string' || localDate === undefined) {
    throw new ArchiveError('file-unreadable', 'a row has no unit_id, local_date or event');
  }
  return { unitId, localDate, line };
}
