import type { ClassicLevel } from 'classic-level';
import type { Instant } from '../../shared/time/instant.ts';
import type { Operation } from './groupCommit.ts';
import { idOf, keyOf, numberIn, rangeOf } from './queueKeys.ts';

/** A message that was given up, and why. */
export interface DeadLetter {
  readonly id: string;
  readonly body: string;
  readonly group: string;
  readonly receives: number;
  /** What was wrong the last time. */
  readonly reason: string;
  readonly parkedAt: Instant;
}

/** The dead letters of one queue. */
export class DeadLetters {
  readonly #queue: string;
  readonly #database: ClassicLevel;
  readonly #numbers = new Set<number>();

  constructor(queue: string, database: ClassicLevel) {
    this.#queue = queue;
    this.#database = database;
  }

  get size(): number {
    return this.#numbers.size;
  }

  /** Finds what is on the disk; returns the highest number among them, 0 for none. */
  async load(): Promise<number> {
    let last = 0;
    for await (const key of this.#database.keys(rangeOf(this.#queue, 'd'))) {
      last = numberIn(key);
      this.#numbers.add(last);
    }
    return last;
  }

  /** How a message is put among them; once that is done, {@link count} it. */
  parking(number: number, letter: Omit<DeadLetter, 'id'>): Operation {
    return { type: 'put', key: keyOf(this.#queue, 'd', number), value: JSON.stringify(letter) };
  }

  count(numbers: readonly number[]): void {
    for (const number of numbers) this.#numbers.add(number);
  }

  /** How a letter is taken out; once that is done, {@link forget} it. */
  removal({ id }: DeadLetter): Operation {
    return { type: 'del', key: keyOf(this.#queue, 'd', Number(id)) };
  }

  forget({ id }: DeadLetter): void {
    this.#numbers.delete(Number(id));
  }

  /** All of them, the oldest first. */
  async *all(): AsyncGenerator<DeadLetter> {
    for await (const [key, value] of this.#database.iterator(rangeOf(this.#queue, 'd'))) {
      yield { id: idOf(numberIn(key)), ...JSON.parse(value) };
    }
  }
}
