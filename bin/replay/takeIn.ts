import { CommandError } from '../errors.ts';
import { type Block, blocksOf } from './blocks.ts';
import type { Engine } from './engine.ts';
import { inOrder } from './inOrder.ts';
import type { Progress } from './progress.ts';
import type { RejectionLog } from './rejections.ts';
import type { Shuffle } from './shuffle.ts';
import type { Source } from './source.ts';

/** What was read of the events. */
export interface TakenIn {
  /** Lines, blank ones aside. */
  read: number;
  /** Why the events could not be read to their end, if so. */
  broken: CommandError | undefined;
}

/** The first phase of a replay: judges every line of the events that can be read, and sorts it or rejects it. */
export async function takeIn(
  source: Source,
  engine: Engine,
  { shuffle, rejections, progress }: { shuffle: Shuffle; rejections: RejectionLog; progress: Progress },
): Promise<TakenIn> {
  const taken: TakenIn = { read: 0, broken: undefined };
  progress.begin('Reading events', source.totalBytes);
  async function* blocks(): AsyncGenerator<Block> {
    try {
      for await (const block of blocksOf(source.bytes())) {
        shuffle.keep(block.bytes);
        yield block;
      }
    } catch (error) {
      // What was read before is worth as much as ever.
      if (!(error instanceof CommandError && error.code === 'input-broken')) throw error;
      taken.broken = error;
    }
  }
  await inOrder(blocks(), engine.atOnce, engine.admit, async (admitted) => {
    shuffle.adopt(admitted);
    if (admitted.rejected) rejections.append(admitted.rejected);
    taken.read += admitted.read;
    progress.reach(source.bytesRead());
  });
  rejections.close();
  shuffle.seal();
  progress.end();
  return taken;
}
