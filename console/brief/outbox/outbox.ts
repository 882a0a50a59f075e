import type { Report } from '../findings/report.ts';

/** A report that has not been taken by the service yet. */
export interface Waiting {
  readonly id: string;
  readonly unitId: string;
  /** What people call the place. */
  readonly site: string;
  /** Who wrote it: nobody else sends it. */
  readonly personId: string;
  readonly report: Report;
  /** Real time, RFC 3339. */
  readonly keptAt: string;
  /** Why the service refused it; it is not sent again by itself then. */
  readonly refused?: string;
}

const KEY = 'brinebell.outbox';

const listeners = new Set<() => void>();
let known: { readonly text: string | null; readonly waiting: readonly Waiting[] } = {
  text: null,
  waiting: [],
};

/** What waits on this device, the oldest first. The same array for as long as nothing changes. */
export function waiting(): readonly Waiting[] {
  const text = localStorage.getItem(KEY);
  if (text !== known.text) known = { text, waiting: parse(text) };
  return known.waiting;
}

export function keepWaiting(entry: Waiting): void {
  write([...waiting().filter(({ id }) => id !== entry.id), entry]);
}

export function dropWaiting(id: string): void {
  write(waiting().filter((entry) => entry.id !== id));
}

/** Calls the listener when what waits changes, also in another tab. Returns what ends it. */
export function onWaiting(listener: () => void): () => void {
  const onStorage = ({ key }: StorageEvent) => key === KEY && listener();
  listeners.add(listener);
  window.addEventListener('storage', onStorage);
  return () => {
    listeners.delete(listener);
    window.removeEventListener('storage', onStorage);
  };
}

function write(entries: readonly Waiting[]): void {
  localStorage.setItem(KEY, JSON.stringify(entries));
  for (const listener of listeners) listener();
}

function parse(text: string | null): readonly Waiting[] {
  if (text === null) return [];
  const read: unknown = JSON.parse(text);
  return Array.isArray(read) ? read.filter(isWaiting) : [];
}

function isWaiting(value: unknown): value is Waiting {
  if (typeof value !== 'object' || value === null) return false;
  const names = ['id', 'unitId', 'site', 'personId', 'keptAt'];
  return names.every((name) => typeof Reflect.get(value, name) === 'string') && 'report' in value;
}
