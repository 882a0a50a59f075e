import { Duration, Stack, type StackProps } from 'aws-cdk-lib';
import {
  DeduplicationScope,
  FifoThroughputLimit,
  Queue,
  QueueEncryption,
  type QueueProps,
} from 'aws-cdk-lib/aws-sqs';
import type { Construct } from 'constructs';
import { forQueues, type QueueName, type QueueSpec } from '../../topology.ts';
import { accept } from '../accept.ts';
import type { CloudTopology } from '../cloudTopology.ts';
import { idOf } from './idOf.ts';

/** A queue, and where it parks what cannot be handled. */
export interface QueuePair {
  readonly queue: Queue;
  readonly dead: Queue;
}

/** As long as Amazon SQS keeps anything: SQS Developer Guide, "Message quotas". */
const DEAD_KEPT = Duration.days(14);
/** An outage of days is caught up with; the rest of the fourteen is for who looks into the dead letters. */
const KEPT = Duration.days(7);

const EVERY_QUEUE = { encryption: QueueEncryption.SQS_MANAGED, enforceSSL: true } satisfies QueueProps;

interface QueuesProps extends StackProps {
  readonly topology: CloudTopology;
}

/** The queues of the topology with their dead letters, and where runs by the clock end up that failed. */
export class QueuesStack extends Stack {
  readonly pairs: Readonly<Record<QueueName, QueuePair>>;
  readonly failedRuns: Queue;

  constructor(scope: Construct, id: string, { topology, ...props }: QueuesProps) {
    super(scope, id, props);
    this.pairs = forQueues((name) => this.makePair(name, topology.queues[name]));
    this.failedRuns = new Queue(this, 'FailedRuns', { ...EVERY_QUEUE, retentionPeriod: DEAD_KEPT });
    accept(
      this.failedRuns,
      'SQS3',
      'It holds dead letters itself: those of schedules, which no queue points at.',
    );
  }

  private makePair(name: string, spec: QueueSpec): QueuePair {
    const id = idOf(name);
    // The dead letters of a FIFO queue need one that is FIFO too.
    const order = spec.fifo ? FIFO : {};
    const dead = new Queue(this, `${id}Dead`, { ...EVERY_QUEUE, ...order, retentionPeriod: DEAD_KEPT });
    const queue = new Queue(this, id, {
      ...EVERY_QUEUE,
      ...order,
      retentionPeriod: KEPT,
      visibilityTimeout: Duration.seconds(spec.visibilitySeconds),
      deadLetterQueue: { queue: dead, maxReceiveCount: spec.maxReceives },
    });
    return { queue, dead };
  }
}

/**
 * In order within a group, and as fast as there are groups: SQS Developer Guide, "High throughput for FIFO queues". What
 * is told apart is told by an id of each sending: the same words sent twice are meant twice.
 */
const FIFO = {
  fifo: true,
  contentBasedDeduplication: false,
  deduplicationScope: DeduplicationScope.MESSAGE_GROUP,
  fifoThroughputLimit: FifoThroughputLimit.PER_MESSAGE_GROUP_ID,
} satisfies QueueProps;
