import { queryOptions } from '@tanstack/react-query';
import { service } from '../../api/client.ts';

/** Messages that were parked after many tries. */
export const deadLettersQuery = queryOptions({
  queryKey: ['dead-letters'],
  queryFn: async ({ signal }) => {
    const { data } = await service.GET('/v1/dead-letters', { signal });
    if (!data) throw new Error('The service answered with nothing.');
    return data.items;
  },
  refetchInterval: 60_000,
});

/** Has all of them tried again. Returns what came of it, in words. */
export async function sendAllAgain(): Promise<string> {
  const { data } = await service.POST('/v1/dead-letters/sendings');
  if (!data) throw new Error('The service answered with nothing.');
  const { sent } = data;
  return `${sent === 1 ? '1 message is' : `${sent} messages are`} tried again. What fails once more comes back here.`;
}
