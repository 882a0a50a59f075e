import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useRef, useState } from 'react';
import { meQuery } from '../api/queries.ts';
import { keepShell } from './keepShell.ts';
import { registerWorker } from './register.ts';

/** Whether what is shown opens without a network, as far as it is known yet. */
export type Kept = 'keeping' | 'kept' | 'not-kept';

/**
 * Keeps what is shown on this device, so that it opens without a network: once it is there, it is asked for once more,
 * through the worker.
 */
export function useKept(isThere: boolean, again: () => Promise<unknown>): Kept {
  const client = useQueryClient();
  const [kept, setKept] = useState<Kept>('keeping');
  const ask = useRef(again);
  ask.current = again;
  useEffect(() => {
    if (!isThere) return;
    let isGone = false;
    const keep = async (): Promise<Kept> => {
      const hadWorker = navigator.serviceWorker?.controller !== null;
      if (!(await registerWorker())) return 'not-kept';
      await keepShell();
      // What came before the worker did not pass through it.
      if (!hadWorker) await Promise.all([ask.current(), client.fetchQuery({ ...meQuery, staleTime: 0 })]);
      return 'kept';
    };
    void keep()
      .catch((): Kept => 'not-kept')
      .then((how) => isGone || setKept(how));
    return () => {
      isGone = true;
    };
  }, [isThere, client]);
  return kept;
}
