import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import { type Changed, type Hearing, listenToChanges } from '../api/changes.ts';
import { Gatherer, onChanged } from './changed.ts';

/**
 * Keeps what is shown up to date: queries whose key begins with `unit` and a unit's id are asked anew when that unit
 * changes, and those that begin with `live` when any unit does. Returns how changes are heard of now.
 */
export function useLive(): Hearing {
  const client = useQueryClient();
  const [hearing, setHearing] = useState<Hearing>('live');
  useEffect(() => {
    const gatherer = new Gatherer();
    const ended = new AbortController();
    const stop = onChanged((what) => {
      void client.invalidateQueries({ predicate: ({ queryKey }) => concerns(queryKey, what) });
    });
    void listenToChanges({ changed: (what) => gatherer.add(what), hears: setHearing }, ended.signal);
    return () => {
      ended.abort();
      stop();
      gatherer.stop();
    };
  }, [client]);
  return hearing;
}

function concerns([first, second]: readonly unknown[], what: Changed): boolean {
  if (first === 'live') return true;
  return first === 'unit' && (what === 'anything' || (typeof second === 'string' && what.has(second)));
}
