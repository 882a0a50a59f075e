import type { Alert } from '../../shared/alerts.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import type { Truth } from '../simulation/truth.ts';
import { dayOf, type ScoredUnit } from './scoredUnit.ts';

/** So long after the end of what it tells of an alert may still be raised: the day is reported on the next. */
const GRACE_DAYS = 2;
/** What was done at the last regeneration is found out by the readings until the next. */
const SINCE_REGENERATION_DAYS = 14;

/**
 * Whether an alert tells of something that was so: a fault of the unit, under its kind or one that follows from it; an
 * overrun, a regeneration without salt or a tank nearly empty by the truth.
 */
export function isJustified(scored: ScoredUnit, alert: Alert): boolean {
  return scored.truth.some((entry) => explains(scored, entry, alert));
}

function explains(scored: ScoredUnit, entry: Truth, alert: Alert): boolean {
  const raised = dayOf(scored, alert.raisedAt);
  const within = (grace: number) =>
    raised >= (parseLocalDate(since(entry)) ?? Infinity) &&
    raised <= (parseLocalDate(entry.to ?? '') ?? scored.to) + grace;
  switch (entry.what) {
    case 'fault':
      return kindsOf(entry).includes(alert.kind) && within(GRACE_DAYS);
    case 'overrun':
      return alert.kind === 'overrun' && within(SINCE_REGENERATION_DAYS);
    case 'regeneration-without-salt':
      return alert.kind === 'no-salt-draw' && within(SINCE_REGENERATION_DAYS);
    case 'salt-low':
      return alert.kind === 'salt-low' && within(GRACE_DAYS);
    case 'confounder':
      // A carrier that is down does make a unit silent; so does a gateway for the days that it waits.
      return alert.kind === 'silent-unit' && entry.detail.confounder === 'outage' && within(GRACE_DAYS);
    case 'absence':
      return false;
  }
}

function since({ from, detail }: Truth): string {
  return typeof detail.dwindlingFrom === 'string' ? detail.dwindlingFrom : from;
}

function kindsOf({ kind, detail }: Truth): string[] {
  const also = Array.isArray(detail.also) ? detail.also : [];
  return [
    ...(kind === null ? [] : [kind]),
    ...also.map((each: unknown) =>
      typeof each === 'object' && each !== null && 'kind' in each ? String(each.kind) : '',
    ),
  ];
}
