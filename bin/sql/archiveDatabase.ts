import { mkdtemp, readdir, realpath, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DuckDBConnection } from '@duckdb/node-api';
import { PARTITION_COLUMNS, type SqlTable, TABLES } from '../../lib/archive/tables.ts';
import { VIEWS } from '../../lib/archive/views.ts';
import { type NamedColumn, TYPE_NAMES } from '../../lib/table/column.ts';
import { CommandError } from '../errors.ts';

/** A database in memory whose views are over the files of an archive, and which can touch no other file. */
export interface ArchiveDatabase {
  readonly connection: DuckDBConnection;
  close(): Promise<void>;
}

/**
 * Opens an archive for queries.
 *
 * @param folder that of the archive
 * @throws CommandError `archive-missing` if there is none
 */
export async function openArchive(folder: string): Promise<ArchiveDatabase> {
  const place = await archiveAt(folder);
  // The library is native and large: nobody but who asks waits for it.
  const { DuckDBInstance } = await import('@duckdb/node-api');
  // For what does not fit into memory. It must be known before other files are locked away.
  const spill = await mkdtemp(join(tmpdir(), 'brinebell-sql-'));
  try {
    const instance = await DuckDBInstance.create(':memory:', {
      temp_directory: spill,
      autoinstall_known_extensions: 'false',
      autoload_known_extensions: 'false',
    });
    const connection = await instance.connect();
    for (const table of Object.values(TABLES)) await connection.run(await tableSql(place, table));
    for (const { name, sql } of VIEWS) await connection.run(`create view ${name} as ${sql}`);
    await lock(connection, place);
    return {
      connection,
      async close() {
        connection.closeSync();
        instance.closeSync();
        await rm(spill, { recursive: true, force: true });
      },
    };
  } catch (error) {
    await rm(spill, { recursive: true, force: true });
    throw error;
  }
}

/**
 * Leaves a query nothing but the archive to read, for good: files outside of it, the network and extensions are refused
 * (duckdb.org/docs, Securing DuckDB). Writing into it is not, which is why only a `select` is let in.
 */
async function lock(connection: DuckDBConnection, place: string): Promise<void> {
  // What is looked for is compared as it is written, and what is found by its name.
  const written = [...new Set([place, literal(place)])].map((each) => quoted(`${each}/`));
  await connection.run(`set allowed_directories = [${written.join(', ')}]`);
  await connection.run('set enable_external_access = false');
  await connection.run('set lock_configuration = true');
}

/** The archive's own path, without links: that of a file is compared so. */
async function archiveAt(folder: string): Promise<string> {
  const folders: readonly string[] = Object.values(TABLES).map((table) => table.folder);
  try {
    const place = await realpath(folder);
    if ((await readdir(place)).some((name) => folders.includes(name))) return place;
  } catch {
    // Said below.
  }
  throw new CommandError(
    'archive-missing',
    `there is no archive in ${folder}`,
    'npm start writes one to archive/ in its data folder, within some minutes of the first event; --data names that folder.',
  );
}

async function tableSql(place: string, { name, folder, columns }: SqlTable): Promise<string> {
  // Files that match nothing are an error, and an archive that only begins is none.
  if (!(await hasFiles(join(place, folder)))) {
    return `create view ${name} as select ${[...PARTITION_COLUMNS, ...columns].map(emptyColumn).join(', ')} where false`;
  }
  const selected = [...PARTITION_COLUMNS.map(fromPath), ...columns.map((column) => column.name)];
  return `create view ${name} as select ${selected.join(', ')} from ${filesOf(place, folder)}`;
}

/** A column of the path. DuckDB takes one that reads null, in whatever letters, for no value at all; as an id it is one. */
function fromPath({ name }: NamedColumn): string {
  if (name === 'month') return name;
  const value = PARTITION_COLUMNS.map((each) => `${each.name}=${each.name === name ? '([^/]+)' : '[^/]+'}`);
  return `coalesce(${name}, regexp_extract(filename, '/${value.join('/')}/[^/]+$', 1)) as ${name}`;
}

function filesOf(place: string, folder: string): string {
  // An id may look like a number or a date, and is neither.
  const types = PARTITION_COLUMNS.map((column) => `'${column.name}': ${TYPE_NAMES[column.type].duckdb}`);
  return `read_parquet(${quoted(`${literal(place)}/${folder}/*/*/*/*.parquet`)}, hive_partitioning = true, filename = true,
    hive_types = {${types.join(', ')}}, union_by_name = true)`;
}

/** A path in which a star is a star, though it is looked for by pattern: what is between brackets stands for itself. */
function literal(path: string): string {
  return path.replace(/[*?[]/g, '[$&]');
}

function emptyColumn({ name, type }: NamedColumn): string {
  return `cast(null as ${TYPE_NAMES[type].duckdb}) as ${name}`;
}

async function hasFiles(folder: string): Promise<boolean> {
  const names = await readdir(folder, { recursive: true }).catch(() => []);
  return names.some((name) => name.endsWith('.parquet'));
}

function quoted(text: string): string {
  return `'${text.replaceAll("'", "''")}'`;
}
