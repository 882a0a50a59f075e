import type { ClassicLevel } from 'classic-level';

export type Operation =
  | { readonly type: 'put'; readonly key: string; readonly value: string }
  | { readonly type: 'del'; readonly key: string };

/** Writes that must outlast a power failure. Those asked for while one is under way share the next: one flush for all. */
export class GroupCommit {
  readonly #database: ClassicLevel;
  #pending: Operation[] = [];
  #next: Promise<void> | undefined;
  #current: Promise<void> = Promise.resolve();

  constructor(database: ClassicLevel) {
    this.#database = database;
  }

  /** Returns when the operations are on the disk, all or none of them. Calls return in the order in which they came. */
  write(operations: readonly Operation[]): Promise<void> {
    for (const operation of operations) this.#pending.push(operation);
    this.#next ??= this.#current.then(() => this.#flush());
    return this.#next;
  }

  #flush(): Promise<void> {
    const operations = this.#pending;
    this.#pending = [];
    this.#next = undefined;
    const written = this.#database.batch(operations, { sync: true });
    this.#current = written.catch(() => {}); // Whoever waits for it is told.
    return written;
  }
}
