import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { service } from '../api/client.ts';
import type { Choice } from './choice.ts';

/** The service asks every unit for it, which takes seconds: it is asked again this seldom. */
const EVERY_MS = 5 * 60_000;

/** Deliveries of the weeks to come. While another choice is read, the one before stays. */
export function deliveriesQuery(choice: Choice) {
  return queryOptions({
    queryKey: ['deliveries', choice.region, choice.round],
    queryFn: async ({ signal }) => {
      const { data } = await service.GET('/v1/deliveries', { params: { query: choice }, signal });
      if (!data) throw new Error('The service answered with nothing.');
      return data;
    },
    placeholderData: keepPreviousData,
    staleTime: EVERY_MS,
    refetchInterval: EVERY_MS,
  });
}

/** The units of a choice as a file. */
export async function deliveriesFile(choice: Choice): Promise<Blob | undefined> {
  const { data } = await service.GET('/v1/deliveries.csv', { params: { query: choice }, parseAs: 'blob' });
  return data;
}
