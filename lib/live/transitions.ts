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
  /**
   * The same for the same change, however often it is worked out; unique among those of its unit. One that was told and
   * withdrawn may be told again, under the key that it had.
   */
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

/** That an episode has changed, and how it stands since: all that a transition is told from. */
export interface EpisodeChange {
  readonly change: Change;
  readonly at: Instant;
  readonly episode: Episode;
}

/**
 * The changes between the episodes that were open before a look at a unit and those after it. One that comes back has
 * worsened, from being over: it is not raised a second time, but whoever heard that it was over must hear of it.
 *
 * @param recent episodes that were over before the look, as far as they can come back
 */
export function changesBetween(
  before: readonly Episode[],
  after: Watched,
  at: Instant,
  recent: readonly Episode[],
): EpisodeChange[] {
  const changes: EpisodeChange[] = [];
  for (const episode of after.open) {
    const change = changeFrom(sameIn(before, episode) ?? sameIn(recent, episode), episode);
    if (change) changes.push({ change, at, episode });
  }
  for (const episode of after.ended) changes.push({ change: 'cleared', at, episode });
  return changes;
}

/** An episode as it stands among others; undefined if it is not there. */
export function sameIn(
  episodes: readonly Episode[],
  { kind, raisedAt }: Pick<Episode, 'kind' | 'raisedAt'>,
): Episode | undefined {
  for (const each of episodes) if (each.kind === kind && each.raisedAt === raisedAt) return each;
  return undefined;
}

function changeFrom(old: Episode | undefined, episode: Episode): Change | undefined {
  if (!old) return 'raised';
  if (old.clearedAt !== null) return 'worsened';
  const step = stepBetween(old, episode);
  return step === 0 ? undefined : step > 0 ? 'worsened' : 'eased';
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
  if (after.severity === before.severity) return 0;
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
