import { useQueryClient } from '@tanstack/react-query';
import { useEffect, useState } from 'react';
import type { PlannedVisit } from '../api/types.ts';
import { keepShell } from '../offline/keepShell.ts';
import { registerWorker } from '../offline/register.ts';
import { briefQuery, recordQuery } from '../unit/queries.ts';

/** More than a day's work is not fetched ahead. */
const MOST = 20;

/**
 * Fetches the briefs of visits ahead, through the worker that keeps them: they open in a cellar though nobody opened them
 * before. Returns whether they are kept.
 */
export function useBriefsKept(visits: readonly PlannedVisit[]): boolean {
  const client = useQueryClient();
  const [isKept, setKept] = useState(false);
  const wanted = visits
    .slice(0, MOST)
    .map(({ unitId, visitId }) => `${unitId} ${visitId}`)
    .join('\n');
  useEffect(() => {
    setKept(false);
    if (wanted === '') return;
    let isGone = false;
    const keep = async () => {
      if (!(await registerWorker())) return;
      // The page of the brief too, with what it is made of.
      await import('../brief/BriefPage.tsx');
      await keepShell();
      for (const line of wanted.split('\n')) {
        const [unitId = '', visitId] = line.split(' ');
        await client.fetchQuery({ ...briefQuery(unitId, visitId), staleTime: 0 });
        await client.prefetchQuery(recordQuery(unitId));
        if (isGone) return;
      }
      setKept(true);
    };
    // Without a network they stay as they were kept before; the page says only what it knows.
    void keep().catch(() => undefined);
    return () => {
      isGone = true;
    };
  }, [wanted, client]);
  return isKept;
}
