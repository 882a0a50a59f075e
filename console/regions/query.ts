import { queryOptions } from '@tanstack/react-query';
import { service } from '../api/client.ts';
import { accountsOf } from './months.ts';

/** Accounts change by the day: they are asked for again this seldom. */
const EVERY_MS = 60_000;

/** The salt accounts of all regions, as far as they are worked out. */
export const accountsQuery = queryOptions({
  queryKey: ['accounts'],
  queryFn: async ({ signal }) => {
    const { data } = await service.GET('/v1/accounts', { signal });
    // Narrowed for the type: nobody asked for what may be shared.
    if (!data || data.shared) throw new Error('The service answered with something else.');
    return accountsOf(data);
  },
  staleTime: EVERY_MS,
  refetchInterval: EVERY_MS,
});
