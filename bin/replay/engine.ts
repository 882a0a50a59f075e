import { setImmediate } from 'node:timers/promises';
import type { TrialOptions } from '../../lib/trial/tryRules.ts';
import { type AdmittedBlock, Admitter } from './admitBlock.ts';
import type { Block } from './blocks.ts';
import type { Fleet } from './fleet.ts';
import { type Folded, type FoldOptions, foldUnits } from './foldUnits.ts';
import type { Shuffle } from './shuffle.ts';
import { Threads } from './threads.ts';
import { type Tried, tryUnits } from './tryUnits.ts';
import { detached, type UnitRange } from './unitRange.ts';

/** Where the work of a replay is done: in this thread, or in others too. Either way the results are absorbed in order. */
export interface Engine {
  /** How many work. */
  threads: number;
  /** How many tasks it can be given before the first is absorbed. */
  atOnce: number;
  admit(block: Block): Promise<AdmittedBlock>;
  fold(range: UnitRange, options: FoldOptions): Promise<Folded>;
  /** As `fold`, by two sets of rules. */
  tryRules(range: UnitRange, options: TrialOptions): Promise<Tried>;
  close(): Promise<void>;
}

/** Does the work in this thread. */
export function here(fleet: Fleet, shuffle: Shuffle): Engine {
  const admitter = new Admitter(fleet);
  const of = (range: UnitRange) => {
    const reader = shuffle.reader(range);
    return [fleet.units.slice(range.first, range.end), (index: number) => reader.received(index)] as const;
  };
  return {
    threads: 1,
    atOnce: 1,
    admit: async (block) => admitter.admit(block),
    fold: async (range, options) => foldUnits(...of(range), options),
    tryRules: async (range, options) => tryUnits(...of(range), options),
    close: async () => {},
  };
}

/** Does the work in so many threads, of which this one is one: it does what the others have no room for. */
export function inThreads(threads: number, fleet: Fleet, shuffle: Shuffle, folder: string): Engine {
  const others = new Threads(threads - 1, fleet, folder);
  const own = here(fleet, shuffle);
  let begun: Promise<unknown> = Promise.resolve();
  /** Gives a task away or does it, each when those before it have been. */
  const share = <Result>(away: () => Promise<Result>, own: () => Promise<Result>): Promise<Result> => {
    const turn = begun.then(async () => {
      // Lets in what the others have done meanwhile.
      if (!others.haveRoom) await setImmediate();
      if (others.haveRoom) return { result: away() };
      const result = own();
      await result.catch(() => {});
      return { result };
    });
    begun = turn;
    return turn.then(({ result }) => result);
  };
  const foldAway = <Result>(range: UnitRange, task: { options: FoldOptions } | { trial: TrialOptions }) => {
    const { range: own, buffers } = detached(range);
    return others.run<Result>({ range: own, ...task }, buffers);
  };
  return {
    threads,
    atOnce: 4 * threads,
    admit: (block) =>
      share(
        () => others.run<AdmittedBlock>({ block }, [block.bytes.buffer]),
        () => own.admit(block),
      ),
    fold: (range, options) =>
      share(
        () => foldAway<Folded>(range, { options }),
        () => own.fold(range, options),
      ),
    tryRules: (range, trial) =>
      share(
        () => foldAway<Tried>(range, { trial }),
        () => own.tryRules(range, trial),
      ),
    close: () => others.close(),
  };
}
