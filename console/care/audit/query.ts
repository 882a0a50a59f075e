import { infiniteQueryOptions } from '@tanstack/react-query';
import { service } from '../../api/client.ts';
import type { components } from '../../api/generated/api.d.ts';

export type Audited = components['schemas']['Audited'];

const A_PAGE = 100;
const EVERY_MS = 10_000;

/** What people of the company did, the latest first. */
export const auditQuery = infiniteQueryOptions({
  queryKey: ['audit'],
  initialPageParam: '',
  queryFn: async ({ pageParam, signal }) => {
    const query = { limit: A_PAGE, ...(pageParam && { cursor: pageParam }) };
    const { data } = await service.GET('/v1/audit', { params: { query }, signal });
    if (!data) throw new Error('The service answered with nothing.');
    return data;
  },
  getNextPageParam: ({ next }) => next,
  // Reading again reads all pages that are shown: whoever has gone far back is not interested in the latest.
  refetchInterval: ({ state }) => ((state.data?.pages.length ?? 0) <= 1 ? EVERY_MS : false),
});
