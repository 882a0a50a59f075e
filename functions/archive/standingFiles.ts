import type { ArchiveFiles } from '../../lib/archive/files.ts';

/**
 * The files of a folder whose names follow from what is in them: what is there already is not written again, and in the end
 * all is dropped that does not stand any more. Ended in between, it leaves old files beside new ones and none is missing.
 */
export class StandingFiles {
  readonly #files: ArchiveFiles;
  readonly #there: ReadonlySet<string>;
  readonly #standing = new Set<string>();
  #written = 0;

  private constructor(files: ArchiveFiles, there: Iterable<string>) {
    this.#files = files;
    this.#there = new Set(there);
  }

  static async in(files: ArchiveFiles, folder: string): Promise<StandingFiles> {
    return new StandingFiles(files, await files.list(folder));
  }

  /** Has a file stand: it is made only if it is not there. */
  async stand(path: string, make: () => Uint8Array): Promise<void> {
    if (this.#standing.has(path)) return;
    if (!this.#there.has(path)) {
      await this.#files.put(path, make());
      this.#written += 1;
    }
    this.#standing.add(path);
  }

  /** Drops all others; returns how many files were written, dropped, and stand. */
  async dropOthers(): Promise<{ written: number; dropped: number; standing: number }> {
    const others = [...this.#there].filter((path) => !this.#standing.has(path));
    await this.#files.drop(others);
    return { written: this.#written, dropped: others.length, standing: this.#standing.size };
  }
}
