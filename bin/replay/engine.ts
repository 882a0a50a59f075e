import { fileURLToPath } from 'node:url';
import type { TrialOptions } from '../../lib/trial/tryRules.ts';
import { admitBlock } from './admitBlock.ts';
import { BLOCK_BYTES, type Block } from './blocks.ts';
import type { Fleet } from './fleet.ts';
import { type Folded, type FoldOptions, foldUnits } from './foldUnits.ts';
import type { RejectionLog } from './rejections.ts';
import { receivedIn, type Shuffle, type UnitRange } from './shuffle.ts';
import { type Tried, tryUnits } from './tryUnits.ts';
import type { AdmittedBlock, WorkerSetup } from './worker.ts';

/** Where the work of a replay is done: here, or in threads. Either way the results are absorbed in order. */
export interface Engine {
  /** Bytes of the blocks that it likes to be given. */
  blockBytes: number;
  /** How many tasks it can be given before the first is absorbed. */
  atOnce: number;
  /** Judges a block; what it returns takes the results in and tells how many lines were read. */
  admit(block: Block): Promise<() => Promise<number>>;
  fold(range: UnitRange, options: FoldOptions): Promise<Folded>;
  /** As `fold`, by two sets of rules. */
  tryRules(range: UnitRange, options: TrialOptions): Promise<Tried>;
  close(): Promise<void>;
}

/** Does the work in this thread. */
export function here(fleet: Fleet, shuffle: Shuffle, rejections: RejectionLog): Engine {
  return {
    blockBytes: BLOCK_BYTES,
    atOnce: 1,
    admit: async (block) => async () =>
      admitBlock(block, fleet, {
        accept: (place, received) => shuffle.hold(place, received),
        reject: (rejection) => rejections.add(rejection),
      }),
    fold: async (range, options) =>
      foldUnits(fleet.units.slice(range.first, range.end), receivedIn(range, fleet.units), options),
    tryRules: async (range, options) =>
      tryUnits(fleet.units.slice(range.first, range.end), receivedIn(range, fleet.units), options),
    close: async () => {},
  };
}

/** Does the work in threads. */
export async function inThreads(
  threads: number,
  setup: WorkerSetup,
  shuffle: Shuffle,
  rejections: RejectionLog,
): Promise<Engine> {
  // Loaded only where it is used: it takes as long as a small replay.
  const { Piscina } = await import('piscina');
  const pool = new Piscina({
    filename: fileURLToPath(new URL('./replayWorker.js', import.meta.url)),
    minThreads: threads,
    maxThreads: threads,
    workerData: setup,
  });
  return {
    blockBytes: 4 * BLOCK_BYTES,
    atOnce: threads + 2,
    admit: async ({ bytes, firstLine }) => {
      const block: AdmittedBlock = await pool.run({ bytes, firstLine }, { transferList: [bytes.buffer] });
      return async () => {
        shuffle.adopt(block.chunk, block.lastKnown);
        if (block.rejected) await rejections.append(block.rejected);
        return block.read;
      };
    },
    fold: (range, options) => pool.run({ range, options }),
    tryRules: (range, trial) => pool.run({ range, trial }),
    close: () => pool.destroy(),
  };
}
