import type { Outlet, Ports } from '../../../functions/ports.ts';
import { FUNCTIONS, type FunctionName, forQueues, QUEUES, type QueueName } from '../../topology.ts';
import { ENVIRONMENT } from '../environment.ts';
import { noOutlet } from './noOutlets.ts';
import { setting } from './setting.ts';
import { sqs } from './sqsClient.ts';
import { sqsOutlet } from './sqsOutlet.ts';

/** The queues that a function sends to; the others refuse. */
export function outletsOf(name: FunctionName): Ports['queues'] {
  const sendsTo: readonly QueueName[] = FUNCTIONS[name].sendsTo;
  return forQueues((queue) => (sendsTo.includes(queue) ? outletTo(queue) : noOutlet(name, queue)));
}

export function outletTo(queue: QueueName): Outlet {
  return sqsOutlet({ client: sqs, url: setting(ENVIRONMENT.queue(queue)), fifo: QUEUES[queue].fifo });
}
