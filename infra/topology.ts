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
}

/** The queues between the functions. */
export const QUEUES = {
  /** Lines as they were received. */
  ingest: { fifo: false, batchSize: 100, windowSeconds: 1, visibilitySeconds: 61, maxReceives: 8 },
  /** Units of which facts were stored; a group is a unit, so that no unit waits for another. */
  assess: { fifo: true, batchSize: 10, visibilitySeconds: 60, maxReceives: 8 },
  /** Changes of alerts, and visits, that somebody is to be told of; some wait a while, which counts as being handed out. */
  notify: { fifo: false, batchSize: 10, visibilitySeconds: 60, maxReceives: 14 },
} as const satisfies Record<string, QueueSpec>;

export type QueueName = keyof typeof QUEUES;

/** What sets a function off. */
export type Source =
  | { readonly queue: QueueName }
  | { readonly everyMinutes: number }
  | { readonly http: true };

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
  | 'operator-key';

/** The folders at the top of object storage. */
export type Folder = 'facts' | 'accounts' | 'reports' | 'trials';

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
    sendsTo: ['assess'],
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
    timeoutSeconds: 60,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['assess', 'notify'],
    may: [],
  },
  report: {
    source: { everyMinutes: 24 * 60 },
    timeoutSeconds: 300,
    table: 'read',
    files: 'write',
    folders: { writes: ['accounts', 'reports'] },
    sendsTo: [],
    may: [],
  },
  api: {
    source: { http: true },
    timeoutSeconds: 10,
    table: 'readWrite',
    files: 'none',
    sendsTo: ['ingest', 'assess', 'notify'],
    may: ['dead-letters', 'answer-key', 'operator-key'],
  },
} as const satisfies Record<string, FunctionSpec>;

export type FunctionName = keyof typeof FUNCTIONS;
