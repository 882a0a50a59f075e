import { Worker } from 'node:worker_threads';
import type { Fleet } from './fleet.ts';
import type { Reply, Setup, Task } from './worker.ts';

/** A task more than the one it is at, so that it need not wait for this thread before it goes on. */
const TASKS_A_THREAD = 2;

interface Waiting {
  resolve(result: unknown): void;
  reject(error: unknown): void;
}

interface Member {
  worker: Worker;
  /** Who waits for its tasks: it does them in the order in which it was given them. */
  waiting: Waiting[];
  /** Why it has ended, if it has. */
  failure: Error | undefined;
}

/**
 * Threads that do tasks of a replay. Not a pool of a library: this thread works too, so it must know when the others
 * have enough to do, and starts them without waiting for them.
 */
export class Threads {
  readonly #members: readonly Member[];

  constructor(count: number, { units }: Fleet, folder: string) {
    const workerData: Setup = {
      folder,
      units: units.map((unit) => ({ ...unit, zone: unit.zone.name })),
    };
    this.#members = Array.from({ length: count }, () => start(workerData));
  }

  /** Whether one of them can be given a task. */
  get haveRoom(): boolean {
    return this.#leastBusy().waiting.length < TASKS_A_THREAD;
  }

  /**
   * Gives a task to the one with the least to do.
   *
   * @param handedOver what nobody else uses any more
   * @throws what the task throws; or why the thread has ended
   */
  run<Result>(task: Task, handedOver: readonly ArrayBuffer[]): Promise<Result> {
    const member = this.#leastBusy();
    return new Promise((resolve, reject) => {
      member.waiting.push({ resolve, reject });
      if (member.failure) reject(member.failure);
      else member.worker.postMessage(task, handedOver);
    });
  }

  async close(): Promise<void> {
    await Promise.all(this.#members.map(({ worker }) => worker.terminate()));
  }

  #leastBusy(): Member {
    return this.#members.reduce((least, member) =>
      member.waiting.length < least.waiting.length ? member : least,
    );
  }
}

function start(workerData: Setup): Member {
  const worker = new Worker(new URL('./replayWorker.js', import.meta.url), { workerData });
  const member: Member = { worker, waiting: [], failure: undefined };
  worker.on('message', (reply: Reply) => {
    const waiting = member.waiting.shift();
    if ('error' in reply) waiting?.reject(reply.error);
    else waiting?.resolve(reply.result);
  });
  // It ends by itself only if it cannot go on, as for want of memory.
  worker.on('error', (error) => {
    member.failure = error;
    for (const { reject } of member.waiting) reject(error);
  });
  return member;
}
