import { setMaxListeners } from 'node:events';
import type { Changes } from './ports.ts';

/** Passes on, within this process, which units change. Ended by a signal when the process ends. */
export function newChanges(ended: AbortSignal): Changes {
  // One for each console that listens.
  setMaxListeners(0, ended);
  const listeners = new Map<string, Set<(unitId: string) => void>>();
  return {
    ended,
    tell: ({ companyId, unitId }) => {
      for (const listener of listeners.get(companyId) ?? []) listener(unitId);
    },
    listen: (companyId, listener) => {
      const all = listeners.get(companyId) ?? new Set();
      listeners.set(companyId, all.add(listener));
      return () => {
        all.delete(listener);
        if (all.size === 0) listeners.delete(companyId);
      };
    },
  };
}
