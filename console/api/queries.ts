import { queryOptions } from '@tanstack/react-query';
import { service } from './client.ts';
import { setServiceClock } from './serviceClock.ts';

/** The answer of a request that `service` has let through. */
function told<Data>({ data }: { data?: Data }): Data {
  if (data === undefined) throw new Error('The service answered with nothing.');
  return data;
}

const MINUTE = 60_000;

/** Who asks. Asked again soon, to learn how fast the service's clock runs, and then every minute. */
export const meQuery = queryOptions({
  queryKey: ['me'],
  queryFn: async ({ signal }) => {
    const me = told(await service.GET('/v1/me', { signal }));
    setServiceClock(me.now);
    return me;
  },
  refetchInterval: ({ state }) => (state.dataUpdateCount < 2 ? 5_000 : MINUTE),
  staleTime: MINUTE,
});

/** The people of the company, by name. */
export const peopleQuery = queryOptions({
  queryKey: ['people'],
  queryFn: async ({ signal }) => {
    const { items } = told(await service.GET('/v1/people', { signal }));
    return items.sort((a, b) => a.name.localeCompare(b.name));
  },
  staleTime: MINUTE,
});

/** Planned visits of the company on the days from one local date to another, the earliest first. */
export function visitsQuery(from: string, to: string) {
  return queryOptions({
    queryKey: ['live', 'visits', from, to],
    queryFn: async ({ signal }) => {
      const { items } = told(await service.GET('/v1/visits', { params: { query: { from, to } }, signal }));
      return items;
    },
    staleTime: MINUTE,
  });
}
