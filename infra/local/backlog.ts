import type { QueueSpec } from '../topology.ts';
import { Deque } from './deque.ts';

/** Messages, by number, that are handed out one batch after another. */
export interface Lane {
  readonly group: string;
  readonly numbers: Deque<number>;
}

/** Messages handed out together, and the lane that they came from. */
export interface Taken {
  readonly lane: Lane;
  readonly numbers: readonly number[];
}

/**
 * Which messages of a queue wait, and in what order they are handed out. Holds their numbers only, some bytes a message,
 * so that a backlog of millions fits into memory. A first-in-first-out queue has a lane a group, which is put aside
 * while a batch of it is out; any other queue has one lane, and one more for each message that has failed. A message
 * that was handed out before is handed out alone, so that none goes down with a neighbour that cannot be handled.
 */
export class Backlog {
  readonly #spec: QueueSpec;
  readonly #lanes = new Map<string, Lane>();
  readonly #ready = new Deque<Lane>();
  /** How often messages that are not done with have been handed out; absent for never. */
  readonly #receives = new Map<number, number>();
  #size = 0;
  #available = 0;

  constructor(spec: QueueSpec) {
    this.#spec = spec;
  }

  /** Messages that are not done with, those handed out among them. */
  get size(): number {
    return this.#size;
  }

  /** Messages that may be handed out now. Not known of a first-in-first-out queue, which never gathers any. */
  get available(): number {
    return this.#available;
  }

  receives(number: number): number {
    return this.#receives.get(number) ?? 0;
  }

  /** Adds a message. Returns the lane to be resumed in a while, where it was handed out before and never done with. */
  add(number: number, group: string, receives = 0): Lane | undefined {
    this.#size += 1;
    if (receives > 0) this.#receives.set(number, receives);
    if (receives > 0 && !this.#spec.fifo) return laneOf('', number);
    this.#available += 1;
    const name = this.#spec.fifo ? group : '';
    const known = this.#lanes.get(name);
    const lane = known ?? laneOf(name);
    this.#lanes.set(name, lane);
    const isAway = receives > 0 && !known;
    // A lane without messages is none of the ready ones; that of a group is away then, and comes back by itself.
    if (!isAway && (this.#spec.fifo ? !known : lane.numbers.size === 0)) this.#ready.push(lane);
    lane.numbers.push(number);
    return isAway ? lane : undefined;
  }

  /** The next messages to hand out, undefined where none may be. */
  take(): Taken | undefined {
    const lane = this.#ready.shift();
    const first = lane?.numbers.shift();
    if (lane === undefined || first === undefined) return undefined;
    const numbers = [first];
    if (this.receives(first) === 0) {
      for (let next = lane.numbers.peek(); next !== undefined; next = lane.numbers.peek()) {
        if (numbers.length === this.#spec.batchSize || this.receives(next) > 0) break;
        lane.numbers.shift();
        numbers.push(next);
      }
    }
    for (const number of numbers) this.#receives.set(number, this.receives(number) + 1);
    this.#available -= numbers.length;
    if (!this.#spec.fifo && lane.numbers.size > 0) this.#ready.push(lane);
    return { lane, numbers };
  }

  /** Puts back what is not done with of a batch, and returns the lanes to be resumed in a while. */
  putBack({ lane, numbers }: Taken, remaining: ReadonlySet<number>): Lane[] {
    for (const number of numbers) if (!remaining.has(number)) this.#receives.delete(number);
    this.#size -= numbers.length - remaining.size;
    if (!this.#spec.fifo) {
      return [...remaining].map((number) => laneOf('', number));
    }
    for (const number of numbers.toReversed()) if (remaining.has(number)) lane.numbers.unshift(number);
    if (remaining.size > 0) return [lane];
    if (lane.numbers.size > 0) this.#ready.push(lane);
    else this.#lanes.delete(lane.group);
    return [];
  }

  resume(lane: Lane): void {
    this.#available += lane.numbers.size;
    this.#ready.push(lane);
  }
}

function laneOf(group: string, ...numbers: number[]): Lane {
  const lane = { group, numbers: new Deque<number>() };
  for (const number of numbers) lane.numbers.push(number);
  return lane;
}
