import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { service } from '../../api/client.ts';
import type { components } from '../../api/generated/api.d.ts';

export type Health = components['schemas']['AlarmHealth'];

const EVERY_MS = 60_000;

/** @param days how far back from now it looks */
export function alarmHealthQuery(days: number) {
  return queryOptions({
    queryKey: ['alarm-health', days],
    queryFn: async ({ signal }): Promise<Health> => {
      const { data } = await service.GET('/v1/alarm-health', { params: { query: { days } }, signal });
      if (!data) throw new Error('The service answered with nothing.');
      return data;
    },
    staleTime: EVERY_MS,
    placeholderData: keepPreviousData,
  });
}
