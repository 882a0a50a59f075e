import { type FileHandle, open, readFile, rm } from 'node:fs/promises';
import { CommandError, codeOf, reasonOf } from '../errors.ts';

/**
 * Which units a credential is asked for, noted before it is: beside the file of credentials, so that whoever goes on after a
 * kill knows which units may have one that nobody has seen. It also keeps two runs from one file.
 */
export class Journal {
  /** Units of a run that was cut off. */
  readonly leftOver: ReadonlySet<string>;
  readonly #path: string;
  readonly #handle: FileHandle;

  private constructor(path: string, leftOver: ReadonlySet<string>, handle: FileHandle) {
    this.#path = path;
    this.leftOver = leftOver;
    this.#handle = handle;
  }

  /**
   * @param path of the file of credentials
   * @throws CommandError `output-unusable` if another run is at work on that file
   */
  static async open(path: string): Promise<Journal> {
    const own = `${path}.asked`;
    try {
      const [owner, ...asked] = await linesOf(own);
      if (owner !== undefined && isRunning(Number(owner))) throw atWork(own, owner);
      await rm(own, { force: true });
      // Whoever is here at the same moment makes it first, or finds it there.
      const handle = await open(own, 'wx', 0o600);
      const journal = new Journal(own, new Set(asked), handle);
      await journal.note([String(process.pid), ...asked]);
      return journal;
    } catch (error) {
      if (error instanceof CommandError) throw error;
      throw new CommandError(
        'output-unusable',
        `${own}: ${reasonOf(error)}`,
        'Choose another file for --out.',
      );
    }
  }

  /** Notes units; returns when it is on disk. */
  async note(unitIds: readonly string[]): Promise<void> {
    await this.#handle.appendFile(unitIds.map((line) => `${line}\n`).join(''));
    await this.#handle.datasync();
  }

  /** Leaves it for whoever goes on. */
  async leave(): Promise<void> {
    await this.#handle.close();
  }

  /** Nothing is left over. */
  async remove(): Promise<void> {
    await this.#handle.close();
    await rm(this.#path, { force: true });
  }
}

/** Whole lines of the file; none if it is not there. */
async function linesOf(path: string): Promise<string[]> {
  try {
    return (await readFile(path, 'utf8')).split('\n').slice(0, -1);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw error;
  }
}

function isRunning(processId: number): boolean {
  // In a container the one before often had our number.
  if (!Number.isInteger(processId) || processId <= 0 || processId === process.pid) return false;
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return codeOf(error) === 'EPERM';
  }
}

function atWork(path: string, owner: string): CommandError {
  return new CommandError(
    'output-unusable',
    `another run, process ${owner}, is at work on this file`,
    `Wait for it; or, if process ${owner} is something else, remove ${path}.`,
  );
}
