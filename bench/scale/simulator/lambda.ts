import type { Timeline } from './timeline.ts';

/** An execution environment: runs one invocation at a time, and remembers. */
export interface Environment {
  readonly isNew: boolean;
  /** Messages that it has handled. */
  handled: number;
}

export interface AccountOptions {
  /** Invocations at the same time, of all functions together. */
  readonly concurrency: number;
  /** New environments of one function at once, and a second. */
  readonly scaling: { readonly atOnce: number; readonly aSecond: number };
}

interface Functions {
  readonly idle: Environment[];
  tokens: number;
  filledAt: number;
}

/** The Lambda functions of an account in a region: how many invocations may run, and how fast that may grow. */
export class Account {
  readonly #timeline: Timeline;
  readonly #options: AccountOptions;
  readonly #functions = new Map<string, Functions>();
  #running = 0;
  #most = 0;
  #throttled = 0;
  #begun = 0;

  constructor(timeline: Timeline, options: AccountOptions) {
    this.#timeline = timeline;
    this.#options = options;
  }

  get running(): number {
    return this.#running;
  }

  /** The most that ran at the same time. */
  get most(): number {
    return this.#most;
  }

  get throttled(): number {
    return this.#throttled;
  }

  /** Environments that were begun: cold starts. */
  get begun(): number {
    return this.#begun;
  }

  /** Begins an invocation; undefined where it is throttled. */
  start(name: string): Environment | undefined {
    const of = this.#function(name);
    const isFull = this.#running >= this.#options.concurrency;
    const known = isFull ? undefined : of.idle.pop();
    if (isFull || (!known && of.tokens < 1)) {
      this.#throttled += 1;
      return undefined;
    }
    this.#running += 1;
    this.#most = Math.max(this.#most, this.#running);
    if (known) return { isNew: false, handled: known.handled };
    of.tokens -= 1;
    this.#begun += 1;
    return { isNew: true, handled: 0 };
  }

  end(name: string, environment: Environment): void {
    this.#running -= 1;
    this.#function(name).idle.push(environment);
  }

  #function(name: string): Functions {
    const { atOnce, aSecond } = this.#options.scaling;
    const { now } = this.#timeline;
    const known = this.#functions.get(name);
    if (!known) {
      const added = { idle: [], tokens: atOnce, filledAt: now };
      this.#functions.set(name, added);
      return added;
    }
    known.tokens = Math.min(atOnce, known.tokens + (now - known.filledAt) * aSecond);
    known.filledAt = now;
    return known;
  }
}
