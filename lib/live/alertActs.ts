import type { AlertAct } from '../../shared/facts.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { raisedAtOf } from './transitions.ts';

/** Something that somebody did about an alert, in the sense of ISA-18.2. */
export interface DoneAct {
  readonly act: 'acknowledge' | 'unacknowledge' | 'shelve' | 'unshelve';
  readonly by: string;
  /** When it became known; it holds from then on. */
  readonly at: Instant;
  /** Of a shelving: until when it holds. */
  readonly until?: Instant;
}

/** What has been done about one alert after an instant, in its order: all of it. */
export interface ActsSince {
  readonly alertId: string;
  /** Null: from the beginning. */
  readonly since: Instant | null;
  readonly acts: readonly DoneAct[];
}

/** Who did something, and when. */
export interface ByWhom {
  readonly by: string;
  readonly at: Instant;
}

/** How an alert has been handled, as the last word on it stands. */
export interface Handling {
  readonly acknowledged: ByWhom | null;
  /** Also one that has ended: whoever asks compares `until` with the time. */
  readonly shelved: (ByWhom & { readonly until: Instant }) | null;
}

/** So many acts of each sort are kept of an alert: an earlier one can only matter if all of these turn out to be none. */
const MOST_ACTS = 8;

/**
 * Reads what an act says about an alert. Undefined where it says nothing about one: it is about the unit, names an
 * alert that was raised only later, or shelves one without an end.
 */
export function aboutAlert({ act, by, known, alertId, until }: AlertAct) {
  if (alertId === undefined || !((raisedAtOf(alertId) ?? Number.POSITIVE_INFINITY) <= known))
    return undefined;
  switch (act) {
    case 'acknowledge':
    case 'unacknowledge':
    case 'unshelve':
      return { alertId, done: { act, by, at: known } satisfies DoneAct };
    case 'shelve':
      return until === undefined
        ? undefined
        : { alertId, done: { act, by, at: known, until } satisfies DoneAct };
    case 'remove-from-service':
    case 'return-to-service':
      return undefined;
  }
}

/** The acts that are kept of an alert once more is known of them; the same however often that is taken in. */
export function withActs(kept: readonly DoneAct[], { since, acts }: Omit<ActsSince, 'alertId'>): DoneAct[] {
  const all = [...kept.filter(({ at }) => since !== null && at <= since), ...acts];
  const few = new Set([
    ...all.filter(isAcknowledging).slice(-MOST_ACTS),
    ...all.filter(isShelving).slice(-MOST_ACTS),
  ]);
  return all.filter((each) => few.has(each));
}

/** How an alert stands handled after some acts, in their order. */
export function handlingOf(acts: readonly DoneAct[]): Handling {
  const last = acts.findLast(isAcknowledging);
  const shelving = acts.findLast(isShelving);
  return {
    acknowledged: last?.act === 'acknowledge' ? { by: last.by, at: last.at } : null,
    shelved:
      shelving?.until === undefined ? null : { by: shelving.by, at: shelving.at, until: shelving.until },
  };
}

function isAcknowledging({ act }: DoneAct): boolean {
  return act === 'acknowledge' || act === 'unacknowledge';
}

function isShelving(act: DoneAct): boolean {
  return !isAcknowledging(act);
}
