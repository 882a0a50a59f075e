import { QUEUE_NAMES, QUEUES } from '../../topology.ts';
import { ENVIRONMENT } from '../environment.ts';
import type { Watched } from './deadLetters.ts';
import { deadQueue } from './deadQueue.ts';
import { outletTo } from './outlets.ts';
import { setting } from './setting.ts';
import { sqs } from './sqsClient.ts';

/** All queues with their dead letters, as the environment names them. */
export function watchedQueues(): Watched[] {
  return QUEUE_NAMES.map((name) => ({
    name,
    spec: QUEUES[name],
    dead: deadQueue(sqs(), setting(ENVIRONMENT.deadLetters(name))),
    outlet: outletTo(name),
  }));
}
