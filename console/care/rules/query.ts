import { queryOptions } from '@tanstack/react-query';
import { service } from '../../api/client.ts';
import type { components } from '../../api/generated/api.d.ts';
import { ServiceProblem } from '../../api/problem.ts';

export type RuleTrial = components['schemas']['RuleTrial'];
export type Counts = components['schemas']['TrialCounts'];
export type Rules = Record<string, unknown>;

const EVERY_MS = 3_000;
/** Under which the trial that was started last is kept while the window is open. */
const KEY = 'brinebell.rule-trial';

/** What the company overrides of the rules. */
export const companyRulesQuery = queryOptions({
  queryKey: ['company-rules'],
  queryFn: async ({ signal }): Promise<Rules> => {
    const { data } = await service.GET('/v1/company', { signal });
    if (!data) throw new Error('The service answered with nothing.');
    return data.rules;
  },
  staleTime: Number.POSITIVE_INFINITY,
});

/** A trial, asked for again and again as long as it goes on; null if there is none of that number any more. */
export function trialQuery(trialId: string) {
  return queryOptions({
    queryKey: ['rule-trial', trialId],
    queryFn: async ({ signal }): Promise<RuleTrial | null> => {
      try {
        const { data } = await service.GET('/v1/rule-trials/{trialId}', {
          params: { path: { trialId } },
          signal,
        });
        return data ?? null;
      } catch (error) {
        if (error instanceof ServiceProblem && error.is('trial-unknown')) return null;
        throw error;
      }
    },
    refetchInterval: ({ state }) => (state.data?.state === 'running' ? EVERY_MS : false),
  });
}

/** @throws ServiceProblem, such as `at-work-already` */
export async function startTrial(rules: Rules): Promise<string> {
  const { data } = await service.POST('/v1/rule-trials', { body: { rules } });
  if (!data) throw new Error('The service answered with nothing.');
  sessionStorage.setItem(KEY, data.trialId);
  return data.trialId;
}

/** Puts rules in force; gives back what stood before. */
export async function putInForce(rules: Rules): Promise<Rules> {
  const { data: before } = await service.GET('/v1/company');
  const { data } = await service.PUT('/v1/company/rules', { body: rules });
  if (!before || !data) throw new Error('The service answered with nothing.');
  return before.rules;
}

export function lastTrial(): string | undefined {
  return sessionStorage.getItem(KEY) ?? undefined;
}

/** Fetches the page of a trial and has the browser keep it: a plain link would not say who asks. */
export async function downloadPage(trialId: string): Promise<void> {
  const { data } = await service.GET('/v1/rule-trials/{trialId}/page', {
    params: { path: { trialId } },
    parseAs: 'blob',
  });
  if (!data) throw new Error('The service answered with nothing.');
  const address = URL.createObjectURL(data);
  const link = document.createElement('a');
  link.href = address;
  link.download = `rule-trial-${trialId}.html`;
  link.click();
  // The browser has begun to read it by then.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
