import type { IFunction } from 'aws-cdk-lib/aws-lambda';
import type { IQueue } from 'aws-cdk-lib/aws-sqs';
import { INDEX } from '../../../lib/store/table.ts';
import type { QueueName } from '../../topology.ts';
import type { NamedPart } from '../alarmSpec.ts';
import type { QueuePair } from './queues.ts';

/** The parts that alarms and the dashboard look at. */
export interface Watched {
  readonly queues: Readonly<Record<QueueName, QueuePair>>;
  readonly failedRuns: IQueue;
  readonly functions: Readonly<Record<string, IFunction>>;
  /** Ids of the two HTTP APIs. */
  readonly apis: Readonly<Record<'people' | 'machines', string>>;
  readonly tableName: string;
  /** The rule that takes meters' messages in, and where it leaves what it could not hand on. */
  readonly meterRule: string;
  readonly undelivered: IQueue;
}

/** What a part of the topology is called in this deployment; undefined for one that is not built. */
export function nameOf(
  part: NamedPart,
  { queues, failedRuns, functions, apis, tableName, meterRule, undelivered }: Watched,
): string | undefined {
  if ('queue' in part) return queues[part.queue]?.queue.queueName;
  if ('deadLettersOf' in part) return queues[part.deadLettersOf]?.dead.queueName;
  if ('function' in part) return functions[part.function]?.functionName;
  if ('api' in part) return apis[part.api];
  return {
    ...{ table: tableName, 'list-index': INDEX, 'meter-rule': meterRule },
    ...{ undelivered: undelivered.queueName, 'failed-runs': failedRuns.queueName },
  }[part.only];
}
