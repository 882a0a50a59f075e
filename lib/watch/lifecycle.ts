import type { LifecycleRules } from './rules/lifecycle.ts';

const HOUR_MS = 3_600_000;

/** How long an episode can come back after it cleared, milliseconds. */
export function reopenMs({ reopenHours }: LifecycleRules): number {
  return reopenHours * HOUR_MS;
}

/** How long a visit after an episode cleared counts for it, milliseconds. */
export function visitMs({ visitDays }: LifecycleRules): number {
  return visitDays * 24 * HOUR_MS;
}
