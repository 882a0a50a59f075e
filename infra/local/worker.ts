import type { Context, SQSBatchResponse, SQSEvent } from 'aws-lambda';
import type { Ports } from '../../functions/ports.ts';
import type { FunctionSpec } from '../topology.ts';
import { contextOf, failedIds, recordOf } from './lambdaShape.ts';
import { type Batch, failedFor, type LocalQueue, type Message } from './queue.ts';
import { within } from './within.ts';

export type QueueHandler = (event: SQSEvent, context: Context) => Promise<SQSBatchResponse | undefined>;

export interface WorkerOptions {
  /** The function's name. */
  readonly name: string;
  readonly spec: Pick<FunctionSpec, 'timeoutSeconds'>;
  readonly log: Ports['log'];
  /** How many batches are handled at once. */
  readonly parallel?: number;
  /** Is told of each message that is done with. */
  readonly onHandled?: (message: Message) => void;
}

/** How long after a failure of the queue itself it is asked again, milliseconds. */
const PAUSE_MS = 1000;

/**
 * Hands what comes into a queue to a function, as Lambda does: what it reports as failed comes back, and the whole
 * batch does where it throws, overruns its time or answers nonsense. Returns a function that ends it, once the batches
 * under way are settled; close the queue first.
 */
export function startWorker(
  queue: LocalQueue,
  handler: QueueHandler,
  options: WorkerOptions,
): () => Promise<void> {
  const { log, name, parallel = 4, onHandled } = options;
  const pump = async () => {
    for (;;) {
      try {
        const batch = await queue.receive();
        if (!batch) return;
        const failed = await handle(queue.name, batch, handler, options);
        await batch.settle(failed);
        for (const message of batch.messages) if (!failed.has(message.id)) onHandled?.(message);
      } catch (error) {
        log.error(`${name}: the queue fails`, error instanceof Error ? error : String(error));
        await new Promise((resolve) => setTimeout(resolve, PAUSE_MS));
      }
    }
  };
  const pumps = Promise.all(Array.from({ length: parallel }, pump));
  return async () => {
    await pumps;
  };
}

/** Why each message that is to come back failed. */
async function handle(
  queue: string,
  batch: Batch,
  handler: QueueHandler,
  { name, spec, log }: WorkerOptions,
): Promise<ReadonlyMap<string, string>> {
  const ids = batch.messages.map(({ id }) => id);
  const event = { Records: batch.messages.map((message) => recordOf(queue, message)) };
  const context = contextOf(name, `${name}-${ids[0]}`, spec.timeoutSeconds);
  try {
    const response = await within(spec.timeoutSeconds * 1000, () => handler(event, context));
    const failed = failedIds(response, ids);
    return new Map(failed.map((id) => [id, `reported by ${name}, whose log says why`]));
  } catch (error) {
    log.error(`${name}: a batch fails`, error instanceof Error ? error : String(error));
    return failedFor(batch, error instanceof Error ? error.message : String(error));
  }
}
