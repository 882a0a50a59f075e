import type { Alert } from '../../shared/alerts.ts';
import { SEVERITIES } from '../../shared/alerts.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { type Episode, toAlert } from '../watch/episode.ts';
import type { Watched } from '../watch/watchUnit.ts';

/** What can become of an alert. `withdrawn`: a fact that came late shows that it was never one. */
export const CHANGES = ['raised', 'worsened', 'eased', 'cleared', 'withdrawn'] as const;

export type Change = (typeof CHANGES)[number];

/** One change of an alert that somebody is told of. */
export interface Transition {
  /** The same for the same change, however often it is worked out; unique among those of its unit. */
  readonly key: string;
  readonly change: Change;
  readonly at: Instant;
  readonly alertId: string;
  readonly alert: Alert;
}

/** What names an alert among those of its unit. */
export function alertIdOf({ kind, raisedAt }: Pick<Episode, 'kind' | 'raisedAt'>): string {
  return `${kind}-${raisedAt}`;
}

/** When an alert of that id was raised; undefined if none can have it. */
export function raisedAtOf(alertId: string): Instant | undefined {
  const raisedAt = Number(/-(-?\d+)$/.exec(alertId)?.[1]);
  return Number.isSafeInteger(raisedAt) ? raisedAt : undefined;
}

/**
 * The changes between the episodes that were open before a look at a unit and those after it. One that comes back has
 * worsened, from being over: it is not raised a second time, but whoever heard that it was over must hear of it.
 *
 * @param recent episodes that were over before the look, as far as they can come back
 */
export function transitionsOf(
  unitId: string,
  before: readonly Episode[],
  after: Watched,
  at: Instant,
  recent: readonly Episode[],
): Transition[] {
  if (after.open === before && after.ended.length === 0) return [];
  const previously = new Map([...recent, ...before].map((episode) => [alertIdOf(episode), episode]));
  const changed = after.open.flatMap((episode) => {
    const old = previously.get(alertIdOf(episode));
    if (!old) return [transition(unitId, episode, 'raised', at)];
    if (old.clearedAt !== null) return [transition(unitId, episode, 'worsened', at)];
    const step = stepBetween(old, episode);
    return step === 0 ? [] : [transition(unitId, episode, step > 0 ? 'worsened' : 'eased', at)];
  });
  const ended = after.ended.map((episode) => transition(unitId, episode, 'cleared', at));
  return [...changed, ...ended];
}

/** The last change that was told of an episode, by what is kept of it. */
export function lastChangeOf({ clearedAt, history, lapse }: Episode): Change {
  if (clearedAt !== null) return 'cleared';
  const last = history.findLastIndex((each, index) => each.severity !== history[index - 1]?.severity);
  const [before, after] = [history[last - 1], history[last]];
  if (lapse && lapse.reopenedAt >= (after?.at ?? 0)) return 'worsened';
  if (!before || !after) return 'raised';
  return stepBetween(before, after) > 0 ? 'worsened' : 'eased';
}

function stepBetween(before: Pick<Episode, 'severity'>, after: Pick<Episode, 'severity'>): number {
  return SEVERITIES.indexOf(after.severity) - SEVERITIES.indexOf(before.severity);
}

/** One transition, with the alert as it stands after it. */
export function transition(unitId: string, episode: Episode, change: Change, at: Instant): Transition {
  const alertId = alertIdOf(episode);
  return told({ change, at, alertId, alert: toAlert(unitId, episode) });
}

/** Gives a change the key under which it is told. */
export function told(change: Omit<Transition, 'key'>): Transition {
  return { ...change, key: `${change.alertId}-${change.change}-${change.alert.severity}-${change.at}` };
}
