import { queryOptions } from '@tanstack/react-query';
import { service } from '../api/client.ts';
import { regionsOf } from './months.ts';

/** The service adds up all units for it, which takes seconds: it is asked again this seldom. */
const EVERY_MS = 60_000;

/** The accounts of all regions, until now. */
export const regionsQuery = queryOptions({
  queryKey: ['regions'],
  queryFn: async ({ signal }) => {
    const { data } = await service.GET('/v1/regions', { signal });
    if (!data) throw new Error('The service answered with nothing.');
    return regionsOf(data.items);
  },
  staleTime: EVERY_MS,
  refetchInterval: EVERY_MS,
});
