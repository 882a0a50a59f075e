import { type FileHandle, lstat, open, rename } from 'node:fs/promises';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { CommandError, codeOf, reasonOf } from '../errors.ts';
import { COLUMNS, type Row } from './credentialRow.ts';

/** Nobody but its owner may read it, or write to it. */
const MODE = 0o600;
const HEADER = `${COLUMNS.join(',')}\n`;

/**
 * The file in which credentials are written down as they come: a row counts once it is on disk, and of two of one unit the
 * later one. A line that a kill has cut off is taken off.
 */
export class CredentialFile {
  readonly #path: string;
  readonly #rows: Map<string, Row>;
  readonly #handle: FileHandle;
  #waiting: { text: string; done: () => void; failed: (error: unknown) => void }[] = [];
  #isWriting = false;

  private constructor(path: string, rows: Map<string, Row>, handle: FileHandle) {
    this.#path = path;
    this.#rows = rows;
    this.#handle = handle;
  }

  /**
   * Opens the file, or makes it.
   *
   * @throws CommandError `output-unusable` if something else is there, or others could read it
   */
  static async open(path: string): Promise<CredentialFile> {
    try {
      const text = await textOf(path);
      const handle = await open(path, 'a', MODE);
      try {
        await handle.truncate(Buffer.byteLength(text));
        if (text === '') await handle.appendFile(HEADER);
        await handle.datasync();
        return new CredentialFile(path, rowsIn(path, text), handle);
      } catch (error) {
        await handle.close();
        throw error;
      }
    } catch (error) {
      throw error instanceof CommandError ? error : unusable(path, reasonOf(error));
    }
  }

  /** What a file holds, without making one. */
  static async rows(path: string): Promise<ReadonlyMap<string, Row>> {
    const text = await textOf(path).catch((error) => {
      throw error instanceof CommandError ? error : unusable(path, reasonOf(error));
    });
    return rowsIn(path, text);
  }

  get rows(): ReadonlyMap<string, Row> {
    return this.#rows;
  }

  /** Adds a row; returns when it is on disk. Rows that come meanwhile go there together. */
  add(row: Row): Promise<void> {
    this.#rows.set(row.unit_id, row);
    return new Promise((done, failed) => {
      this.#waiting.push({ text: lineOf(row), done, failed });
      if (!this.#isWriting) void this.#write();
    });
  }

  drop(unitId: string): void {
    this.#rows.delete(unitId);
  }

  /** Writes the file anew with one row a unit, in place of what is there. */
  async compact(): Promise<void> {
    const unfinished = `${this.#path}.${process.pid}`;
    const handle = await open(unfinished, 'wx', MODE);
    try {
      await handle.writeFile([HEADER, ...[...this.#rows.values()].map(lineOf)].join(''));
      await handle.datasync();
    } finally {
      await handle.close();
    }
    await rename(unfinished, this.#path);
  }

  async close(): Promise<void> {
    await this.#handle.close();
  }

  async #write(): Promise<void> {
    this.#isWriting = true;
    while (this.#waiting.length > 0) {
      const batch = this.#waiting;
      this.#waiting = [];
      try {
        await this.#handle.appendFile(batch.map(({ text }) => text).join(''));
        await this.#handle.datasync();
        for (const { done } of batch) done();
      } catch (error) {
        const why = new CommandError(
          'output-failed',
          `${this.#path}: ${reasonOf(error)}`,
          'Make room, then do the same again.',
        );
        for (const { failed } of batch) failed(why);
      }
    }
    this.#isWriting = false;
  }
}

function lineOf(row: Row): string {
  return stringify([row], { columns: [...COLUMNS] });
}

/** The whole lines of the file; nothing if there is none, or it was cut off before there was one. */
async function textOf(path: string): Promise<string> {
  const stats = await lstat(path).catch((error) => {
    if (codeOf(error) === 'ENOENT') return undefined;
    throw error;
  });
  if (!stats) return '';
  if (!stats.isFile()) throw unusable(path, 'it is no plain file');
  const isOurs = process.getuid === undefined || stats.uid === process.getuid();
  if (!isOurs) throw unusable(path, 'it is somebody else’s');
  if (process.platform !== 'win32' && (stats.mode & 0o077) !== 0) {
    throw unusable(path, 'others may read it or write to it', `chmod 600 ${path}, or choose another file.`);
  }
  const handle = await open(path, 'r');
  try {
    const text = await handle.readFile('utf8');
    if (HEADER.startsWith(text)) return text === HEADER ? text : '';
    if (!text.startsWith(HEADER)) throw unusable(path, 'it is no file of credentials');
    return text.slice(0, text.lastIndexOf('\n') + 1);
  } finally {
    await handle.close();
  }
}

function rowsIn(path: string, text: string): Map<string, Row> {
  try {
    const rows: Row[] = parse(text, { columns: true });
    return new Map(rows.map((row) => [row.unit_id, row]));
  } catch (error) {
    throw unusable(path, reasonOf(error));
  }
}

function unusable(path: string, why: string, advice = 'Choose another file for --out.'): CommandError {
  return new CommandError('output-unusable', `${path}: ${why}`, advice);
}
