import { ServiceProblem, ServiceUnreachable } from '../api/problem.ts';

/** What failed, in a few words. */
export function titleOf(error: unknown): string {
  if (error instanceof ServiceUnreachable || isUnloaded(error)) return 'The service does not answer';
  if (error instanceof ServiceProblem) {
    return error.is('role-not-for-this') ? 'Your role does not allow this' : error.title;
  }
  return 'The console failed';
}

/** Whether a part of the console could not be had, as browsers and the loader word it. */
function isUnloaded(error: unknown): boolean {
  return (
    error instanceof Error && /preload|dynamically imported module|importing a module/i.test(error.message)
  );
}

/** What to do about it. */
export function messageOf(error: unknown): string {
  if (isUnloaded(error)) return 'This page could not be loaded. Try again when the service is back.';
  if (error instanceof ServiceProblem) {
    const faults = error.faults.map(({ detail }) => detail).join('; ');
    return faults ? `${error.message} (${faults})` : error.message;
  }
  return error instanceof Error ? error.message : 'Load the page again.';
}
