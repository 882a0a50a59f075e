import { QueryClient } from '@tanstack/react-query';
import { ServiceProblem } from '../api/problem.ts';

const MOST_TRIES = 3;

/** What was asked of the service, kept for as long as a page shows it and five minutes more. */
export const queryClient = new QueryClient({
  defaultOptions: {
    queries: {
      // What the service refuses, it would refuse again; what fails on the way may work the next time.
      retry: (failures, error) =>
        failures < MOST_TRIES && !(error instanceof ServiceProblem && error.status < 500),
      staleTime: 5_000,
    },
    mutations: { retry: false },
  },
});
