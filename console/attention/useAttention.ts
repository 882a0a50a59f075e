import { experimental_streamedQuery as streamedQuery, useQuery, useQueryClient } from '@tanstack/react-query';
import { useEffect } from 'react';
import { onChanged } from '../app/changed.ts';
import { firstPage, pagesOfRows } from './readRows.ts';
import { isLong, type Row, withFirstPage } from './rows.ts';

const KEY = ['attention'];
/** A list of many pages is read as a whole only so often; until then its first page is. Milliseconds. */
const WHOLE_EVERY_MS = 60_000;
/** Reading again may take this share of the time at most: a slow service is not asked all the time. */
const BUSY_SHARE = 0.2;

const NONE: readonly Row[] = [];

/** The units that need attention, page by page as they come, and kept up to date. */
export function useAttention() {
  const client = useQueryClient();
  const query = useQuery({
    queryKey: KEY,
    queryFn: streamedQuery({
      streamFn: ({ signal }) => pagesOfRows(signal),
      reducer: (known: readonly Row[], page: readonly Row[]) => known.concat(page),
      initialValue: NONE,
      refetchMode: 'replace',
    }),
    staleTime: WHOLE_EVERY_MS,
    // To compare 100,000 rows with those before takes far longer than to show the thirty that are seen.
    structuralSharing: false,
  });
  useEffect(() => {
    let waiting = false;
    let reads = false;
    let wholeAt = Date.now();
    const gone = new AbortController();
    const read = async () => {
      reads = true;
      waiting = false;
      const began = performance.now();
      const known = client.getQueryData<readonly Row[]>(KEY) ?? NONE;
      if (!isLong(known) || Date.now() - wholeAt > WHOLE_EVERY_MS) {
        wholeAt = Date.now();
        await client.invalidateQueries({ queryKey: KEY });
      } else {
        const fresh = await firstPage(gone.signal).catch(() => undefined);
        if (fresh) client.setQueryData<readonly Row[]>(KEY, (rows) => withFirstPage(rows ?? NONE, fresh));
      }
      const took = performance.now() - began;
      await new Promise((resolve) => setTimeout(resolve, took / BUSY_SHARE - took));
      reads = false;
      if (waiting && !gone.signal.aborted) await read();
    };
    const stop = onChanged(() => {
      waiting = true;
      if (!reads) void read();
    });
    return () => {
      stop();
      gone.abort();
    };
  }, [client]);
  return query;
}
