import type { Outlet, Ports } from '../../../functions/ports.ts';
import { forQueues, type QueueName } from '../../topology.ts';

/** Thrown where a function sends to a queue that the topology does not let it send to. */
class TopologyError extends Error {
  readonly code = 'not-in-topology';
}

/** An outlet for each queue. */
export function queuesBy(outletTo: (queue: QueueName) => Outlet): Ports['queues'] {
  return forQueues(outletTo);
}

/** Stands where a function has no queue. */
export function noOutlet(name: string, queue: QueueName): Outlet {
  return {
    async send() {
      throw new TopologyError(`${name} sends to ${queue}: add it to its sendsTo in infra/topology.ts`);
    },
  };
}
