import type { Ports } from '../../functions/ports.ts';
import { FUNCTIONS, type QueueName } from '../topology.ts';
import type { Message } from './queue.ts';
import type { Queues } from './queues.ts';
import { type QueueHandler, startWorker } from './worker.ts';

export interface WorkersOptions {
  readonly log: Ports['log'];
  readonly onHandled: (queue: string, message: Message) => void;
}

/** Sets each function to work on its queue. Returns a function that ends them, once what is under way is settled. */
export function startWorkers(
  queues: Queues,
  handlers: Readonly<Record<QueueName, QueueHandler>>,
  { log, onHandled }: WorkersOptions,
): () => Promise<void> {
  const names: readonly QueueName[] = ['ingest', 'assess', 'notify', 'archive'];
  const workers = names.map((name) =>
    startWorker(queues[name], handlers[name], {
      name,
      spec: FUNCTIONS[name],
      log,
      onHandled: (message) => onHandled(name, message),
    }),
  );
  return async () => {
    queues.stop();
    await Promise.all(workers.map((ended) => ended()));
  };
}
