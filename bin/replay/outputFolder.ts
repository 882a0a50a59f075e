import {
  closeSync,
  fsyncSync,
  mkdirSync,
  mkdtempSync,
  openSync,
  readdirSync,
  renameSync,
  rmSync,
} from 'node:fs';
import { hostname } from 'node:os';
import { basename, join } from 'node:path';
import { CommandError, codeOf, EXIT, reasonOf } from '../errors.ts';
import { OutputFile } from './outputFile.ts';

const PREFIX = '.brinebell-';

/**
 * The folder that outputs go to. They grow in a folder of their own within it and are put in place, the last one
 * last, when all of them are complete; whatever ends the run before that leaves nothing under their names.
 */
export class OutputFolder {
  /** The folder of what passes with the run. */
  readonly path: string;
  readonly #final: string;
  readonly #outputs = new Map<string, OutputFile>();

  /**
   * Makes the folder if it is not there, and removes what runs that were killed have left in it.
   *
   * @throws CommandError `output-unusable`
   */
  constructor(path: string) {
    this.#final = path;
    // Before there is anything to leave behind: whoever sees the folder may stop the run.
    process.once('SIGINT', this.#stopOnInterrupt);
    process.once('SIGTERM', this.#stopOnTerminate);
    try {
      mkdirSync(path, { recursive: true });
      removeLeftBehind(path);
      this.path = mkdtempSync(join(path, `${PREFIX}${machine()}-${process.pid}-`));
    } catch (error) {
      this.#letGo();
      throw new CommandError(
        'output-unusable',
        `cannot write to ${path}: ${reasonOf(error)}`,
        'Choose a folder for --out that you may write to.',
      );
    }
  }

  /** The path of a file that passes with the run. */
  passing(name: string): string {
    return join(this.path, name);
  }

  /** Begins the output of that name. */
  output(name: string): OutputFile {
    const file = new OutputFile(this.passing(name));
    this.#outputs.set(name, file);
    return file;
  }

  /** Puts all outputs in place, in the order in which they were begun, once each is complete. */
  publish(): void {
    const names = [...this.#outputs.keys()];
    const last = names.at(-1);
    for (const file of this.#outputs.values()) file.close({ lasting: true });
    this.#outputs.clear();
    // While the last one is missing, the others may be of two runs.
    if (last) rmSync(join(this.#final, last), { force: true });
    for (const name of names) renameSync(this.passing(name), join(this.#final, name));
    syncFolder(this.#final);
  }

  /** Ends the run; what was not published is gone. */
  discard(): void {
    this.#letGo();
    for (const file of this.#outputs.values()) file.abandon();
    this.#outputs.clear();
    rmSync(this.path, { recursive: true, force: true });
  }

  readonly #stopOnInterrupt = () => this.#stop(EXIT.interrupted);
  readonly #stopOnTerminate = () => this.#stop(EXIT.terminated);

  #letGo(): void {
    process.off('SIGINT', this.#stopOnInterrupt);
    process.off('SIGTERM', this.#stopOnTerminate);
  }

  #stop(status: number): void {
    try {
      this.discard();
    } finally {
      // Whatever could not be removed is so by the next run.
      process.exit(status);
    }
  }
}

function removeLeftBehind(path: string): void {
  const mine = `${PREFIX}${machine()}-`;
  for (const name of readdirSync(path)) {
    if (!name.startsWith(mine)) continue;
    const pid = Number(name.slice(mine.length).split('-')[0]);
    if (pid === process.pid || !isRunning(pid)) rmSync(join(path, name), { recursive: true, force: true });
  }
}

/** A process of that number may run here and not on another machine that shares the folder. */
function machine(): string {
  return basename(hostname()).replaceAll('-', '_');
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) !== 'ESRCH';
  }
}

/** Makes the renames last; not every system lets a folder be opened for that. */
function syncFolder(path: string): void {
  try {
    const folder = openSync(path, 'r');
    fsyncSync(folder);
    closeSync(folder);
  } catch {
    return;
  }
}
