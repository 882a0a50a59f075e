import type { Outlet, Ports } from '../../../functions/ports.ts';
import { QUEUES, type QueueName } from '../../topology.ts';

/** Thrown where a function sends to a queue that the topology does not let it send to. */
class TopologyError extends Error {
  readonly code = 'not-in-topology';
}

/** An outlet for each queue. */
export function queuesBy(outletTo: (queue: QueueName) => Outlet): Ports['queues'] {
  const names = Object.keys(QUEUES) as QueueName[];
  return Object.fromEntries(names.map((name) => [name, outletTo(name)])) as Record<QueueName, Outlet>;
}

/** Stands where a function has no queue. */
export function noOutlet(name: string, queue: QueueName): Outlet {
  return {
    async send() {
      throw new TopologyError(`${name} sends to ${queue}: add it to its sendsTo in infra/topology.ts`);
    },
  };
}
