import type { Logger } from '@aws-lambda-powertools/logger';
import type { Store, UnitRef } from '../lib/store/store.ts';
import type { Instant } from '../shared/time/instant.ts';

/** A message to a queue. Those of one `group` are handled one after another, in the order in which they were sent. */
export interface Outgoing {
  readonly body: string;
  readonly group?: string | undefined;
}

/** The sending end of a queue. When `send` returns, the messages outlast whatever happens to us. */
export interface Outlet {
  send(messages: readonly Outgoing[]): Promise<void>;
}

/** What is counted; the names are those of the metrics without their prefix and unit. */
export const COUNTERS = [
  'events_received',
  'events_accepted',
  'events_quarantined',
  'units_assessed',
  'alert_transitions',
  'notices_sent',
  'notices_failed',
  'notices_shelved',
] as const;

export type Counter = (typeof COUNTERS)[number];

/** Counts what happens. */
export interface Meter {
  count(counter: Counter, by: number, labels?: Readonly<Record<string, string>>): void;
}

/** Tells whoever listens, in this process, which units of a company change. */
export interface Changes {
  /** Aborted when nobody is to listen any more. */
  readonly ended: AbortSignal;
  tell(unit: UnitRef): void;
  /** Returns what ends it. */
  listen(companyId: string, listener: (unitId: string) => void): () => void;
}

/** What every handler is given. */
export interface Ports {
  readonly store: Store;
  readonly queues: {
    readonly ingest: Outlet;
    readonly assess: Outlet;
    readonly notify: Outlet;
    readonly archive: Outlet;
  };
  readonly now: () => Instant;
  readonly meter: Meter;
  /** Where this is one process with those who listen; elsewhere they ask again now and then. */
  readonly changes?: Changes | undefined;
  readonly log: Pick<Logger, 'debug' | 'info' | 'warn' | 'error'>;
}
