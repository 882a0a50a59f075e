import type { Changed } from '../api/changes.ts';

type Listener = (what: Changed) => void;

const listeners = new Set<Listener>();

/** Calls the listener with units that have changed, a second's worth at once. Returns what ends it. */
export function onChanged(listener: Listener): () => void {
  listeners.add(listener);
  return () => listeners.delete(listener);
}

/** Tells all listeners at once, for whoever has just changed something. */
export function tellChanged(what: Changed): void {
  for (const listener of listeners) listener(what);
}

/** So long, at least, between two times that listeners are called, milliseconds. */
const APART_MS = 1_000;

/** Gathers changes and tells of them: the first at once, then at most once a second. */
export class Gatherer {
  #gathered: Changed | undefined;
  #timer: ReturnType<typeof setTimeout> | undefined;

  add(what: Changed): void {
    const before = this.#gathered;
    this.#gathered =
      what === 'anything' || before === 'anything' ? 'anything' : new Set([...(before ?? []), ...what]);
    if (this.#timer === undefined) this.#tell();
  }

  stop(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#gathered = undefined;
  }

  #tell(): void {
    const what = this.#gathered;
    this.#gathered = undefined;
    this.#timer = undefined;
    if (what === undefined) return;
    this.#timer = setTimeout(() => this.#tell(), APART_MS);
    tellChanged(what);
  }
}
