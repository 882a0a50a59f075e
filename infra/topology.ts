import { keysOf, recordOf } from '../shared/records.ts';

/** How a queue hands its messages out, in the terms of Amazon SQS. */
export interface QueueSpec {
  /** Whether messages of one group keep their order, one batch of a group at a time. */
  readonly fifo: boolean;
  readonly batchSize: number;
  /**
   * How long messages are gathered before a batch that is not full is handed out, seconds, at most 300; at once where it
   * is left out. Not for a queue that keeps order.
   */
  readonly windowSeconds?: number;
  /** How long a batch may take before its messages are handed out again, seconds. */
  readonly visibilitySeconds: number;
  /** How often a message is handed out before it is parked among the dead letters. */
  readonly maxReceives: number;
  /** At most so many batches at a time, however many a deployment allows; docs/decisions/0020-scale-and-price.md. */
  readonly batchesAtOnce?: number;
}

/**
 * A table that grows to a large fleet's first night refuses good messages for minutes: they are not to be parked meanwhile
 * (docs/decisions/0020-scale-and-price.md).
 */
const THROTTLED = 30;

/** The queues between the functions. */
export const QUEUES = {
  /** Lines as they were received. */
  ingest: { fifo: false, batchSize: 100, windowSeconds: 1, visibilitySeconds: 61, maxReceives: THROTTLED },
  /** Units of which facts were stored; a group is a unit, so that no unit waits for another. */
  assess: { fifo: true, batchSize: 10, visibilitySeconds: 60, maxReceives: THROTTLED },
  /** Changes of alerts, and visits, that somebody is to be told of; some wait a while, which counts as being handed out. */
  notify: { fifo: false, batchSize: 10, visibilitySeconds: 60, maxReceives: 14, batchesAtOnce: 5 },
  /** Facts as they were stored, for the archive; gathered, since each batch becomes files. */
  archive: { fifo: false, batchSize: 1000, windowSeconds: 300, visibilitySeconds: 660, maxReceives: 8 },
} as const satisfies Record<string, QueueSpec>;

export type QueueName = keyof typeof QUEUES;

export const QUEUE_NAMES: readonly QueueName[] = keysOf(QUEUES);

/** Something for each queue. */
export function forQueues<Made>(make: (name: QueueName) => Made): Record<QueueName, Made> {
  return recordOf(QUEUE_NAMES, make);
}

/** What sets a function off. */
export type Source =
  | { readonly queue: QueueName }
  | { readonly everyMinutes: number }
  | { readonly http: true }
  /** Somebody has signed in, and tokens are about to be made out. */
  | { readonly signIn: true }
  /** A meter that asks for a certificate, before it gets one. */
  | { readonly provisioning: true }
  /** A step of a workflow, see {@link TRIAL_WORKFLOW}. */
  | { readonly workflow: 'trial' };

/** What a function may do beside the table, the archive and the queues. */
export type Right =
  /** Send mail. */
  | 'send-mail'
  /** Send text messages. */
  | 'send-sms'
  /** See the dead letters of all queues, and have them tried again. */
  | 'dead-letters'
  /** Know the key by which households' answers are signed. */
  | 'answer-key'
  /** Know the hash of the operator's key. */
  | 'operator-key'
  /** Revoke the certificates of meters, and learn where their broker is. */
  | 'meter-credentials'
  /** Tell the catalogue of SQL of new partitions of the archive. */
  | 'register-partitions'
  /** Start trials of rules, and ask whether they go on. */
  | 'start-trials';

/** The folders at the top of object storage. */
export type Folder = 'facts' | 'accounts' | 'estimates' | 'reports' | 'trials';

export interface FunctionSpec {
  readonly source: Source;
  readonly timeoutSeconds: number;
  readonly table: 'none' | 'read' | 'readWrite';
  /** Files in object storage: the archive and reports. */
  readonly files: 'none' | 'read' | 'write' | 'readWrite';
  /** Where it reads and writes them; without it, wherever `files` lets it. */
  readonly folders?: { readonly reads?: readonly Folder[]; readonly writes?: readonly Folder[] };
  readonly sendsTo: readonly QueueName[];
  readonly may: readonly Right[];
}

/** Which function hangs on which source, and what it may do. */
export const FUNCTIONS = {
  ingest: {
    source: { queue: 'ingest' },
    timeoutSeconds: 10,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['assess', 'archive'],
    may: [],
  },
  assess: {
    source: { queue: 'assess' },
    timeoutSeconds: 10,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['notify'],
    may: [],
  },
  notify: {
    source: { queue: 'notify' },
    timeoutSeconds: 10,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['ingest'],
    may: ['send-mail', 'send-sms', 'answer-key'],
  },
  sweep: {
    source: { everyMinutes: 15 },
    // A company of millions is one run: docs/decisions/0020-scale-and-price.md.
    timeoutSeconds: 600,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['assess', 'notify'],
    may: [],
  },
  report: {
    source: { everyMinutes: 24 * 60 },
    // Some 5 ms of CPU a unit after three years: docs/decisions/0023-account-exports.md.
    timeoutSeconds: 900,
    table: 'read',
    files: 'readWrite',
    folders: { reads: ['accounts', 'estimates', 'reports'], writes: ['accounts', 'estimates', 'reports'] },
    sendsTo: [],
    may: ['register-partitions'],
  },
  archive: {
    source: { queue: 'archive' },
    timeoutSeconds: 60,
    table: 'none',
    files: 'write',
    folders: { writes: ['facts'] },
    sendsTo: [],
    may: ['register-partitions'],
  },
  compact: {
    source: { everyMinutes: 24 * 60 },
    timeoutSeconds: 900,
    table: 'none',
    files: 'readWrite',
    folders: { reads: ['facts'], writes: ['facts'] },
    sendsTo: [],
    may: [],
  },
  api: {
    source: { http: true },
    timeoutSeconds: 10,
    table: 'readWrite',
    files: 'read',
    folders: { reads: ['reports', 'trials'] },
    sendsTo: ['ingest', 'assess', 'notify'],
    may: ['dead-letters', 'answer-key', 'operator-key', 'meter-credentials', 'start-trials'],
  },
  admit: {
    source: { provisioning: true },
    // AWS IoT Core waits no longer for it (Developer Guide, "Pre-provisioning hooks").
    timeoutSeconds: 5,
    table: 'readWrite',
    files: 'none',
    sendsTo: [],
    may: ['meter-credentials'],
  },
  claims: {
    source: { signIn: true },
    // Amazon Cognito waits no longer for what it calls.
    timeoutSeconds: 5,
    table: 'none',
    files: 'none',
    sendsTo: [],
    may: [],
  },
  trialPlan: {
    source: { workflow: 'trial' },
    timeoutSeconds: 300,
    table: 'read',
    files: 'readWrite',
    folders: { reads: ['trials'], writes: ['trials'] },
    sendsTo: [],
    may: [],
  },
  trialRun: {
    source: { workflow: 'trial' },
    timeoutSeconds: 900,
    table: 'none',
    files: 'readWrite',
    folders: { reads: ['facts', 'trials'], writes: ['trials'] },
    sendsTo: [],
    may: [],
  },
  trialSum: {
    source: { workflow: 'trial' },
    timeoutSeconds: 900,
    table: 'none',
    files: 'readWrite',
    folders: { reads: ['trials'], writes: ['trials'] },
    sendsTo: [],
    may: [],
  },
} as const satisfies Record<string, FunctionSpec>;

export type FunctionName = keyof typeof FUNCTIONS;

/** A workflow: `plan` once, `each` for every item of the JSON array at the path that the plan answers with as `items`, `sum` once. */
export interface WorkflowSpec {
  readonly plan: FunctionName;
  readonly each: FunctionName;
  readonly sum: FunctionName;
  /** Items at a time. */
  readonly concurrency: number;
  readonly attempts: number;
  readonly toleratedFailurePercentage: number;
}

/** The workflow of a trial of rules. A range of units that fails is tried again, and then left out: the sum names it. */
export const TRIAL_WORKFLOW = {
  plan: 'trialPlan',
  each: 'trialRun',
  sum: 'trialSum',
  /** Ranges of units at a time. */
  concurrency: 100,
  attempts: 3,
  toleratedFailurePercentage: 100,
} as const satisfies WorkflowSpec;
