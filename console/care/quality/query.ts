import { infiniteQueryOptions, queryOptions } from '@tanstack/react-query';
import type { QuarantineReason } from '../../../shared/quarantine.ts';
import { service } from '../../api/client.ts';
import type { AttentionRow } from '../../api/types.ts';

const A_PAGE = 25;
const MOST_A_PAGE = 1_000;

/** Messages that were set aside, the latest first; of one reason or of all. */
export function quarantineQuery(reason: QuarantineReason | undefined) {
  return infiniteQueryOptions({
    queryKey: ['quarantine', reason ?? 'all'],
    initialPageParam: '',
    queryFn: async ({ pageParam, signal }) => {
      const query = { limit: A_PAGE, ...(reason && { reason }), ...(pageParam && { cursor: pageParam }) };
      const { data } = await service.GET('/v1/quarantine', { params: { query }, signal });
      if (!data) throw new Error('The service answered with nothing.');
      return data;
    },
    getNextPageParam: ({ next }) => next,
  });
}

/** How many of the latest messages were set aside for each reason; nothing counts all of them. */
export const latestCountsQuery = queryOptions({
  queryKey: ['quarantine', 'counts'],
  queryFn: async ({ signal }) => {
    const { data } = await service.GET('/v1/quarantine', {
      params: { query: { limit: MOST_A_PAGE } },
      signal,
    });
    if (!data) throw new Error('The service answered with nothing.');
    const counts: Partial<Record<QuarantineReason, number>> = {};
    for (const { reason } of data.items) counts[reason] = (counts[reason] ?? 0) + 1;
    return { counts, isAll: data.next === undefined, messages: data.items.length };
  },
});

/** Units with an open alert that nothing is heard of them, the longest silent first. */
export const silentQuery = queryOptions({
  queryKey: ['silent'],
  queryFn: async ({ signal }): Promise<readonly AttentionRow[]> => {
    const [silent, rows] = await Promise.all([silentUnits(signal), attentionRows(signal)]);
    return rows
      .filter(({ unitId, kind }) => kind === 'silent-unit' || silent.has(unitId))
      .sort((a, b) => ((a.lastReported ?? '') < (b.lastReported ?? '') ? -1 : 1));
  },
  staleTime: 60_000,
});

/** A row of the list names its worst alert only: a unit that is silent and has worse is found among the alerts. */
async function silentUnits(signal: AbortSignal): Promise<ReadonlySet<string>> {
  const alerts = await allPages(
    async (query) => (await service.GET('/v1/alerts', { params: { query }, signal })).data,
  );
  return new Set(alerts.filter(({ kind }) => kind === 'silent-unit').map(({ unitId }) => unitId));
}

function attentionRows(signal: AbortSignal): Promise<readonly AttentionRow[]> {
  return allPages(async (query) => (await service.GET('/v1/attention', { params: { query }, signal })).data);
}

async function allPages<Item>(
  read: (query: { limit: number; cursor?: string }) => Promise<{ items: Item[]; next?: string } | undefined>,
): Promise<readonly Item[]> {
  const all: Item[] = [];
  let cursor: string | undefined;
  do {
    const page = await read({ limit: MOST_A_PAGE, ...(cursor !== undefined && { cursor }) });
    if (!page) throw new Error('The service answered with nothing.');
    all.push(...page.items);
    cursor = page.next;
  } while (cursor !== undefined);
  return all;
}

/** Has messages of a reason judged again. Returns what came of it, in words. */
export async function sendAgain(reason: QuarantineReason): Promise<string> {
  const { data } = await service.POST('/v1/quarantine/retry', { body: { reason } });
  if (!data) throw new Error('The service answered with nothing.');
  const { sent, tooLong } = data;
  const words = sent === 1 ? '1 message is judged again' : `${sent} messages are judged again`;
  const rest =
    tooLong === 0
      ? ''
      : ` Of ${tooLong} only the beginning was kept: whoever sent them must send them again.`;
  return `${words}; what still cannot be accepted is set aside once more.${rest}`;
}
