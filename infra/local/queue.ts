import type { ClassicLevel } from 'classic-level';
import type { Outgoing, Outlet } from '../../functions/ports.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { QueueSpec } from '../topology.ts';
import { Backlog, type Lane, type Taken } from './backlog.ts';
import { Bodies } from './bodies.ts';
import { DeadLetters } from './deadLetters.ts';
import type { GroupCommit, Operation } from './groupCommit.ts';
import { groupIn, idOf, keyOf, numberAt, numberIn, rangeOf, sentAtOf } from './queueKeys.ts';

/** A message as it is handed out. */
export interface Message {
  readonly id: string;
  readonly body: string;
  readonly group: string;
  readonly sentAt: Instant;
  /** How often it has been handed out, this time included. */
  readonly receives: number;
}

/** Messages handed out together. */
export interface Batch {
  readonly messages: readonly Message[];
  /** Says how it went: `failed` has the reason of each message that is to come back. The others are deleted. */
  settle(failed: ReadonlyMap<string, string>): Promise<void>;
}

export interface QueueOptions {
  readonly database: ClassicLevel;
  readonly commit: GroupCommit;
  readonly now: () => Instant;
  /** Is told of failures of the disk that nobody waits for. */
  readonly onError: (error: unknown) => void;
  /** How fast the clock runs, for how long messages are gathered; 1 by default, real time. */
  readonly speed?: number | undefined;
  /** How long a message stays away that has failed so often, milliseconds. */
  readonly backoffMs?: ((receives: number) => number) | undefined;
}

/**
 * A queue on the disk, which hands its messages out as Amazon SQS does: each at least once, a failed one again after a
 * while, one that fails too often into the dead letters. What was sent and not deleted is handed out again after a
 * restart, and how often it was handed out is still known then.
 */
export class LocalQueue implements Outlet {
  readonly name: string;
  readonly dead: DeadLetters;
  readonly #spec: QueueSpec;
  readonly #options: QueueOptions;
  readonly #backlog: Backlog;
  readonly #bodies = new Bodies();
  readonly #timers = new Set<NodeJS.Timeout>();
  #waiting: (() => void)[] = [];
  /** Ends the gathering of messages that are there; undefined where none is under way. */
  #gathering: NodeJS.Timeout | undefined;
  #isGathered = false;
  #last = 0;
  #closed = false;

  private constructor(name: string, spec: QueueSpec, options: QueueOptions) {
    this.name = name;
    this.#spec = spec;
    this.#options = options;
    this.#backlog = new Backlog(spec);
    this.dead = new DeadLetters(name, options.database);
  }

  /** Opens a queue and finds what is left in it. */
  static async open(name: string, spec: QueueSpec, options: QueueOptions): Promise<LocalQueue> {
    const queue = new LocalQueue(name, spec, options);
    await queue.#load();
    return queue;
  }

  /** Messages that are not done with, those handed out among them. */
  get depth(): number {
    return this.#backlog.size;
  }

  /** When the oldest message that is not done with was sent. */
  async oldest(): Promise<Instant | undefined> {
    const [key] = await this.#options.database.keys({ ...rangeOf(this.name, 'm'), limit: 1 }).all();
    return key === undefined ? undefined : sentAtOf(numberIn(key));
  }

  /** Returns when the messages are on the disk. */
  async send(messages: readonly Outgoing[]): Promise<void> {
    await this.#add(messages, []);
  }

  /** Waits for messages that may be handed out; undefined once the queue is closed. */
  async receive(): Promise<Batch | undefined> {
    while (!this.#closed) {
      const taken = this.#isRipe() ? this.#backlog.take() : undefined;
      if (taken) {
        // What failed comes one by one: none of it is to wait for a gathering of its own.
        if (this.#backlog.available === 0) this.#isGathered = false;
        const batch = await this.#handOut(taken);
        if (!this.#isExhausted(batch)) return batch;
        await batch.settle(failedFor(batch, 'the process has ended each time that it was handled'));
        continue;
      }
      await new Promise<void>((resolve) => this.#waiting.push(resolve));
    }
    return undefined;
  }

  /** Sends dead letters again, all or those named; returns how many. */
  async sendAgain(ids?: readonly string[]): Promise<number> {
    const wanted = ids && new Set(ids);
    let count = 0;
    for await (const letter of this.dead.all()) {
      if (wanted?.has(letter.id) === false) continue;
      await this.#add([letter], [this.dead.removal(letter)]);
      this.dead.forget(letter);
      count += 1;
    }
    return count;
  }

  /** Hands nothing out any more. What is out may still be settled, and more be sent, while the database is open. */
  close(): void {
    this.#closed = true;
    for (const timer of this.#timers) clearTimeout(timer);
    this.#wake();
  }

  /** Whether a batch may be handed out: it is full, or was gathered for as long as is asked. Else that begins here. */
  #isRipe(): boolean {
    const { windowSeconds = 0, batchSize } = this.#spec;
    const { available } = this.#backlog;
    if (windowSeconds === 0 || this.#isGathered || available >= batchSize) return true;
    if (available > 0) {
      this.#gathering ??= this.#after((windowSeconds * 1000) / (this.#options.speed ?? 1), () => {
        this.#gathering = undefined;
        this.#isGathered = true;
        this.#wake();
      });
    }
    return false;
  }

  async #load(): Promise<void> {
    const { database } = this.#options;
    const receives = new Map<number, number>();
    const together: number[] = [];
    for await (const [key, value] of database.iterator(rangeOf(this.name, 'r'))) {
      const [count = 0, ...others] = value.split(' ').map(Number);
      const all = [numberIn(key), ...others];
      for (const number of all) receives.set(number, Math.max(count, receives.get(number) ?? 0));
      if (others.length > 0) together.push(...all);
    }
    // Those of a batch come one by one from now on, and are counted so.
    await database.batch(
      together.map((number) => put(this.#receivesKey(number), String(receives.get(number)))),
    );
    this.#last = await this.dead.load();
    for await (const key of database.keys(rangeOf(this.name, 'm'))) {
      const number = numberIn(key);
      this.#last = Math.max(this.#last, number);
      const before = receives.get(number) ?? 0;
      const away = this.#backlog.add(number, groupIn(key), before);
      // Cut off while it was handled: handed out at once, it would be worn out by a few restarts in a row.
      if (away) this.#after(this.#wait(before), () => this.#resume(away));
    }
  }

  async #add(messages: readonly Outgoing[], also: readonly Operation[]): Promise<void> {
    const { commit, now } = this.#options;
    const numbered = messages.map(({ body, group = '' }) => {
      this.#last = numberAt(now(), this.#last);
      return { number: this.#last, group: this.#spec.fifo ? group : '', body };
    });
    const puts = numbered.map(({ number, group, body }) => put(this.#key(number, group), body));
    await commit.write([...puts, ...also]);
    for (const { number, group, body } of numbered) {
      this.#bodies.remember(number, body);
      this.#backlog.add(number, group);
    }
    this.#wake();
  }

  async #handOut(taken: Taken): Promise<Batch> {
    const { numbers } = taken;
    const { database } = this.#options;
    try {
      const bodies = await this.#bodiesOf(taken);
      // Before anybody sees them: a message that ends the whole process must be counted too.
      // Several together are there for the first time each, and one entry tells it of all.
      const [first = 0, ...others] = numbers;
      await database.put(this.#receivesKey(first), [this.#backlog.receives(first), ...others].join(' '));
      return this.#batchOf(taken, bodies);
    } catch (error) {
      this.#comeBack(taken, new Set(numbers));
      throw error;
    }
  }

  async #bodiesOf({ numbers, lane }: Taken): Promise<(string | undefined)[]> {
    const bodies = numbers.map((number) => this.#bodies.recall(number));
    const missing = numbers.filter((_, index) => bodies[index] === undefined);
    if (missing.length === 0) return bodies;
    const read = await this.#options.database.getMany(missing.map((number) => this.#key(number, lane.group)));
    const byNumber = new Map(missing.map((number, index) => [number, read[index]]));
    return numbers.map((number, index) => bodies[index] ?? byNumber.get(number));
  }

  #batchOf(taken: Taken, bodies: readonly (string | undefined)[]): Batch {
    const { numbers, lane } = taken;
    const messages = numbers.map((number, index) => ({
      id: idOf(number),
      body: bodies[index] ?? '',
      group: lane.group,
      sentAt: sentAtOf(number),
      receives: this.#backlog.receives(number),
    }));
    const { visibilitySeconds } = this.#spec;
    let open = true;
    const settle = async (failed: ReadonlyMap<string, string>) => {
      if (!open) return;
      open = false;
      this.#cancel(timer);
      await this.#settle(taken, messages, failed);
    };
    const batch = { messages, settle };
    const timer = this.#after(visibilitySeconds * 1000, () => {
      settle(failedFor(batch, `not done with after ${visibilitySeconds} s`)).catch(this.#options.onError);
    });
    return batch;
  }

  #isExhausted({ messages }: Batch): boolean {
    return messages.some(({ receives }) => receives > this.#spec.maxReceives);
  }

  async #settle(
    taken: Taken,
    messages: readonly Message[],
    failed: ReadonlyMap<string, string>,
  ): Promise<void> {
    const remaining = new Set<number>();
    const parked: number[] = [];
    const operations: Operation[] = [];
    for (const { id, body, group, receives } of messages) {
      const number = Number(id);
      const reason = failed.get(id);
      if (reason !== undefined && receives < this.#spec.maxReceives) {
        remaining.add(number);
        if (messages.length > 1) operations.push(put(this.#receivesKey(number), String(receives)));
        continue;
      }
      operations.push(del(this.#key(number, group)));
      if (number === taken.numbers[0]) operations.push(del(this.#receivesKey(number)));
      if (reason !== undefined) {
        const parkedAt = this.#options.now();
        operations.push(this.dead.parking(number, { body, group, receives, reason, parkedAt }));
        parked.push(number);
      }
    }
    try {
      // Not flushed to the disk: at the worst, power fails and they are handed out once more.
      if (operations.length > 0) await this.#options.database.batch(operations);
    } catch (error) {
      this.#comeBack(taken, new Set(taken.numbers));
      throw error;
    }
    this.dead.count(parked);
    this.#comeBack(taken, remaining);
  }

  /** Lets what is not done with of a batch come back after a while. */
  #comeBack(taken: Taken, remaining: ReadonlySet<number>): void {
    const [failed] = remaining;
    const wait = this.#wait(failed === undefined ? 0 : this.#backlog.receives(failed));
    for (const lane of this.#backlog.putBack(taken, remaining)) this.#after(wait, () => this.#resume(lane));
    this.#wake();
  }

  /** How long a message stays away that has been handed out so often, milliseconds. */
  #wait(receives: number): number {
    const { backoffMs = doubling } = this.#options;
    return Math.min(backoffMs(receives), this.#spec.visibilitySeconds * 1000);
  }

  #resume(lane: Lane): void {
    this.#backlog.resume(lane);
    this.#wake();
  }

  #after(ms: number, happen: () => void): NodeJS.Timeout {
    const timer = setTimeout(() => {
      this.#timers.delete(timer);
      happen();
    }, ms);
    this.#timers.add(timer);
    return timer;
  }

  #cancel(timer: NodeJS.Timeout): void {
    clearTimeout(timer);
    this.#timers.delete(timer);
  }

  #wake(): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    for (const resolve of waiting) resolve();
  }

  #key(number: number, group: string): string {
    return keyOf(this.name, 'm', number, group);
  }

  #receivesKey(number: number): string {
    return keyOf(this.name, 'r', number);
  }
}

/** All of a batch as failed, for one reason. */
export function failedFor({ messages }: Batch, reason: string): Map<string, string> {
  return new Map(messages.map(({ id }) => [id, reason]));
}

/** A second, two, four and so on. */
function doubling(receives: number): number {
  return 1000 * 2 ** (receives - 1);
}

function put(key: string, value: string) {
  return { type: 'put', key, value } as const;
}

function del(key: string) {
  return { type: 'del', key } as const;
}
