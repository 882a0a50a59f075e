import type { Outlet, Ports } from '../../../functions/ports.ts';
import { once } from '../../../shared/once.ts';
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
  const url = setting(ENVIRONMENT.queue(queue));
  const made = once(() => sqsOutlet({ client: sqs(), url, fifo: QUEUES[queue].fifo }));
  return { send: (messages) => made().send(messages) };
}
