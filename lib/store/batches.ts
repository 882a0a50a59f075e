import { randomInt } from 'node:crypto';
import {
  BatchWriteItemCommand,
  type BatchWriteItemCommandOutput,
  type WriteRequest,
} from '@aws-sdk/client-dynamodb';
import { chunks } from '../../shared/chunks.ts';
import { StoreError } from './errors.ts';

/** DynamoDB's own limit (API reference of BatchWriteItem). */
const ITEMS_A_BATCH = 25;
const TRIES = 7;
/** Half of the time that the first pause takes at most; each later one may take twice as long. */
const PAUSE_MS = 25;

interface BatchOptions {
  readonly tableName: string;
  readonly send: (command: BatchWriteItemCommand) => Promise<BatchWriteItemCommandOutput>;
  readonly pause: (milliseconds: number) => Promise<void>;
}

/**
 * Writes items in batches, no two of them of one key. What DynamoDB leaves over of a batch is tried again after a
 * while, longer each time and of chance length, so that those who were turned away together do not come back together.
 *
 * @throws StoreError `throttled` if something is left over after some tries
 */
export async function writeBatches(requests: readonly WriteRequest[], options: BatchOptions): Promise<void> {
  for (const batch of chunks(requests, ITEMS_A_BATCH)) await writeBatch(batch, options);
}

async function writeBatch(batch: WriteRequest[], { tableName, send, pause }: BatchOptions): Promise<void> {
  let left = batch;
  for (let tried = 0; tried < TRIES; tried += 1) {
    if (tried > 0) await pause(randomInt(PAUSE_MS * 2 ** tried));
    const { UnprocessedItems } = await send(
      new BatchWriteItemCommand({ RequestItems: { [tableName]: left }, ReturnConsumedCapacity: 'TOTAL' }),
    );
    left = UnprocessedItems?.[tableName] ?? [];
    if (left.length === 0) return;
  }
  throw new StoreError(
    'throttled',
    `${left.length} of ${batch.length} items were left over: try again later`,
  );
}
