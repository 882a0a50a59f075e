import { keepPreviousData, queryOptions } from '@tanstack/react-query';
import { service } from '../api/client.ts';
import { ServiceProblem } from '../api/problem.ts';
import type { Brief } from './types.ts';

/** What is asked of one unit has a key that begins so, and is asked anew when the unit changes. */
const unitKey = (unitId: string) => ['unit', unitId] as const;

/** A unit's story from a local date on. While another range is read, the one before stays. */
export function storyQuery(unitId: string, from: string) {
  return queryOptions({
    queryKey: [...unitKey(unitId), 'story', from],
    queryFn: async ({ signal }) => {
      const params = { path: { unitId }, query: { from } };
      return some(await service.GET('/v1/units/{unitId}/story', { params, signal }));
    },
    placeholderData: keepPreviousData,
  });
}

/** Which settings a unit's own past speaks for. It takes the service about a second. */
export function adviceQuery(unitId: string) {
  return queryOptions({
    // Not asked again at each report: a day more or less of a year says nothing new.
    queryKey: ['advice', unitId],
    queryFn: async ({ signal }) => {
      const params = { path: { unitId } };
      return some(await service.GET('/v1/units/{unitId}/advice', { params, signal }));
    },
    staleTime: 10 * 60_000,
  });
}

export function outOfServiceQuery(unitId: string) {
  return queryOptions({
    queryKey: [...unitKey(unitId), 'out-of-service'],
    queryFn: async ({ signal }) => {
      const params = { path: { unitId } };
      return some(await service.GET('/v1/units/{unitId}/out-of-service', { params, signal })).outOfService;
    },
  });
}

/** The registry's record of a unit: what it is, and where. */
export function recordQuery(unitId: string) {
  return queryOptions({
    queryKey: ['record', unitId],
    queryFn: async ({ signal }) => {
      return some(await service.GET('/v1/units/{unitId}', { params: { path: { unitId } }, signal })).record;
    },
    staleTime: 10 * 60_000,
  });
}

/**
 * What to know before a visit; without one named, before the next that is planned. One that is off the plan, since it was
 * made or taken off, gives the brief of the unit all the same.
 */
export function briefQuery(unitId: string, visitId: string | undefined) {
  return queryOptions({
    queryKey: [...unitKey(unitId), 'brief', visitId ?? 'next'],
    queryFn: async ({ signal }): Promise<Brief> => {
      try {
        return await readBrief(unitId, visitId, signal);
      } catch (error) {
        if (!(error instanceof ServiceProblem && error.is('visit-unknown'))) throw error;
        return await readBrief(unitId, undefined, signal);
      }
    },
    // The worker that keeps briefs answers without a network too; waiting for one would be waiting for nothing.
    networkMode: 'always' as const,
  });
}

async function readBrief(unitId: string, visitId: string | undefined, signal: AbortSignal): Promise<Brief> {
  const params = { path: { unitId }, query: visitId === undefined ? {} : { visitId } };
  return some(await service.GET('/v1/units/{unitId}/brief', { params, signal }));
}

function some<Data>({ data }: { data?: Data }): Data {
  if (data === undefined) throw new Error('The service answered with nothing.');
  return data;
}
