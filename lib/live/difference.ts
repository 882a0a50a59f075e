import type { Instant } from '../../shared/time/instant.ts';
import type { Episode } from '../watch/episode.ts';
import type { Followed } from './follow.ts';
import { alertIdOf, type Transition, told, transition } from './transitions.ts';

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
  const real = new Set(episodesOf(now).map(alertIdOf));
  const withdrawn = episodesOf(before).filter((episode) => !real.has(alertIdOf(episode)));
  return {
    transitions: [
      ...fresh,
      ...corrections(lastOfEach([...before.transitions, ...fresh]), lastOfEach(now.transitions), at),
      ...withdrawn.map((episode) => transition(unitId, episode, 'withdrawn', at)),
    ],
    withdrawn: withdrawn.map(alertIdOf),
  };
}

function corrections(
  heard: ReadonlyMap<string, Transition>,
  real: ReadonlyMap<string, Transition>,
  at: Instant,
): Transition[] {
  const wrong = [...real.values()].filter(({ alertId, key }) => heard.get(alertId)?.key !== key);
  return wrong.map((last) => told({ ...last, at }));
}

function lastOfEach(transitions: readonly Transition[]): Map<string, Transition> {
  return new Map(transitions.map((each) => [each.alertId, each]));
}

function episodesOf({ head, ended }: Followed): Episode[] {
  return [...ended, ...head.open];
}
