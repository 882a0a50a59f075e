import type { Episode } from '../watch/episode.ts';
import type { Followed } from './follow.ts';
import { alertIdOf, lastChangeOf, type Transition, told, transition } from './transitions.ts';

/** What people must be told after they were told something else. */
interface Difference {
  readonly transitions: readonly Transition[];
  /** Alerts that were raised and should not have been. */
  readonly withdrawn: readonly string[];
}

/**
 * What is to be told of `now` to those who have been told of `before`: what is new; what was never so; and how an alert
 * stands after all, where the last that they have heard of it is wrong.
 */
export function differenceOf(unitId: string, before: Followed, now: Followed): Difference {
  const at = now.head.knownUntil ?? 0;
  const known = new Set(before.transitions.map(({ key }) => key));
  const fresh = now.transitions.filter(({ key }) => !known.has(key));
  const real = new Map(episodesOf(now).map((episode) => [alertIdOf(episode), episode]));
  const withdrawn = episodesOf(before).filter((episode) => !real.has(alertIdOf(episode)));
  const heard = lastOfEach([...before.transitions, ...fresh]);
  const last = lastOfEach(now.transitions);
  return {
    transitions: [
      ...fresh,
      ...[...last.values()]
        .filter(({ alertId, key }) => heard.get(alertId)?.key !== key)
        .map((each) => told({ ...each, at })),
      ...takenBack([...heard.keys()], last, real).map((episode) =>
        transition(unitId, episode, lastChangeOf(episode), at),
      ),
      ...withdrawn.map((episode) => transition(unitId, episode, 'withdrawn', at)),
    ],
    withdrawn: withdrawn.map(alertIdOf),
  };
}

/** Episodes of which changes were told that never were: they stand as they did before. */
function takenBack(
  heard: readonly string[],
  last: ReadonlyMap<string, Transition>,
  real: ReadonlyMap<string, Episode>,
): Episode[] {
  return heard.flatMap((alertId) => (last.has(alertId) ? [] : (real.get(alertId) ?? [])));
}

function lastOfEach(transitions: readonly Transition[]): Map<string, Transition> {
  return new Map(transitions.map((each) => [each.alertId, each]));
}

function episodesOf({ head, ended }: Followed): Episode[] {
  return [...ended, ...head.open];
}
