import { QUEUES } from '../../infra/topology.ts';
import { LIMITS } from './limits.ts';

/** What stands still while a scenario runs: what was asked of AWS, and how the functions are set. */
export interface Settings {
  readonly publishes: number;
  /** Connects a second, where meters connect to report; infinite where they stay connected. */
  readonly connects: number;
  /** Concurrency of the account that functions without a reservation share. */
  readonly concurrency: number;
  /** Batches of one queue at a time, at most. */
  readonly batchesMost: number;
  readonly batchesAtFirst: number;
  readonly batchesAMinute: number;
  /** Batches of the queue `notify`, at most. */
  readonly notifyBatchesMost: number;
  readonly memoryMb: number;
  /** Units a second that the table takes at first. */
  readonly tableWrites: number;
  readonly tableReads: number;
  readonly tableQuota: number;
  readonly fifoCalls: number;
  readonly inFlight: number;
  readonly mails: number;
  /** Whether a company's lists and the companies' own items each have a partition for themselves that is no faster than one. */
  readonly hotPartitions: boolean;
}

/** How an account stands when nobody has asked for anything, with the settings of the stage for a large fleet. */
export const DEFAULTS: Settings = {
  publishes: LIMITS.iot.publishes.value,
  connects: Number.POSITIVE_INFINITY,
  // Of a thousand, what the stage for a large fleet keeps for the API (200), the sweep (2) and the report (1).
  concurrency: LIMITS.lambda.concurrency.value - 203,
  batchesMost: 200,
  batchesAtFirst: LIMITS.sqs.batchesAtFirst.value,
  batchesAMinute: LIMITS.sqs.batchesAMinute.value,
  notifyBatchesMost: QUEUES.notify.batchesAtOnce,
  memoryMb: 1024,
  tableWrites: LIMITS.dynamodb.writes.value,
  tableReads: LIMITS.dynamodb.reads.value,
  tableQuota: LIMITS.dynamodb.tableWrites.value,
  fifoCalls: LIMITS.sqs.fifoCalls.value,
  inFlight: LIMITS.sqs.inFlight.value,
  mails: LIMITS.ses.mails.value,
  hotPartitions: true,
};
