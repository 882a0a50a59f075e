import type { Outlet, Ports } from '../../../functions/ports.ts';
import { type FunctionName, forQueues, type QueueName } from '../../topology.ts';

/** Thrown where a function sends to a queue that the topology does not let it send to. */
class TopologyError extends Error {
  readonly code = 'not-in-topology';
}

/** Stands where a function has no queue. */
export function noOutlet(name: FunctionName, queue: QueueName): Outlet {
  return {
    async send() {
      throw new TopologyError(`${name} sends to ${queue}: add it to its sendsTo in infra/topology.ts`);
    },
  };
}

/** The queues of a function that sends to none, and so brings no client of Amazon SQS along. */
export function noOutlets(name: FunctionName): Ports['queues'] {
  return forQueues((queue) => noOutlet(name, queue));
}
