import type { AlertKind } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { UnitState } from '../unit/state.ts';
import { clear, type Episode, explain, goOn, raise, reopen } from './episode.ts';
import type { Finding, WatchedKind } from './kind.ts';
import { KINDS } from './kinds.ts';
import { reopenMs } from './lifecycle.ts';
import type { Rules } from './rules.ts';

/** The episodes of a unit that are open, and those that have just ended. */
export interface Watched {
  readonly open: readonly Episode[];
  readonly ended: readonly Episode[];
}

const NONE: readonly Episode[] = [];

/**
 * Looks at a unit once: raises, carries on and clears its episodes. Pure; `open` comes back as it was where there is
 * nothing to see. A kind that is the consequence of an open episode raises nothing, and what it had raised ends in it.
 *
 * @param recent episodes that are over: the last of a kind that comes back soon after goes on, and is open again
 */
export function watchUnit(
  unit: Unit,
  state: UnitState,
  open: readonly Episode[],
  at: Instant,
  rules: Rules,
  kinds: readonly WatchedKind<Rules>[] = KINDS,
  recent: readonly Episode[] = NONE,
): Watched {
  let watched: Watched = { open, ended: NONE };
  for (let index = 0; index < kinds.length; index++) {
    const kind = kinds[index] as WatchedKind<Rules>;
    const episode = watched.open.length === 0 ? undefined : openOf(kind.kind, watched.open);
    const finding = kind.look(unit, state, rules, at, episode !== undefined);
    if (finding === null && episode === undefined) continue;
    watched = seen(kind, finding, episode, watched, at, recent, rules);
  }
  return watched;
}

/** What comes of a finding, or of an open episode without one. By itself, so that what is done mostly stays small. */
function seen(
  kind: WatchedKind<Rules>,
  finding: Finding | null,
  episode: Episode | undefined,
  { open, ended }: Watched,
  at: Instant,
  recent: readonly Episode[],
  rules: Rules,
): Watched {
  const root = rootOf(kind, open);
  const now = root && finding?.severity ? replace(open, root, explain(root, kind.kind, at)) : open;
  if (episode) {
    if (!root && finding?.lasts) return { open: replace(now, episode, goOn(episode, finding, at)), ended };
    const endedBy = root && finding?.lasts ? 'suppressed' : undefined;
    return { open: now.filter((each) => each !== episode), ended: [...ended, clear(episode, at, endedBy)] };
  }
  if (!finding?.severity || root) return { open: now, ended };
  const before = comingBack(kind, recent, at - reopenMs(rules.lifecycle));
  const { severity } = finding;
  const raised = before ? reopen(before, finding, severity, at) : raise(kind.kind, finding, severity, at);
  return { open: [...now, raised], ended };
}

/** The open episode of a kind, of which there is one at the most. */
function openOf(kind: AlertKind, open: readonly Episode[]): Episode | undefined {
  for (const episode of open) if (episode.kind === kind) return episode;
  return undefined;
}

/** The last episode of a kind that is over, if it cleared no earlier than `since`. */
function comingBack(
  { kind }: WatchedKind<Rules>,
  recent: readonly Episode[],
  since: Instant,
): Episode | undefined {
  return recent.findLast((each) => each.kind === kind && (each.clearedAt ?? since) >= since);
}

/** The open episode that explains a kind. One that only asks a question explains nothing yet. */
function rootOf(kind: WatchedKind<Rules>, open: readonly Episode[]): Episode | undefined {
  for (const each of open) {
    if (each.severity !== 'routine' && kind.consequenceOf.includes(each.kind)) return each;
  }
  return undefined;
}

function replace(episodes: readonly Episode[], old: Episode, by: Episode): readonly Episode[] {
  return old === by ? episodes : episodes.map((each) => (each === old ? by : each));
}
