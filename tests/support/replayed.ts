import { byKnown, type Followed, follow } from '../../lib/live/follow.ts';
import { newHead } from '../../lib/live/head.ts';
import { alertIdOf, type Transition } from '../../lib/live/transitions.ts';
import { settle } from '../../lib/replay/standing.ts';
import { toAlert } from '../../lib/watch/episode.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import type { Alert } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import type { Instant } from '../../shared/time/instant.ts';

const rules = rulesSchema.parse({});

/**
 * What a replay makes of a unit's lines: as `replayUnit`, but with the state that it ends in.
 *
 * @param until how far the clock has run; by default no further than the lines
 */
export function replayed(unit: Unit, lines: readonly string[], until?: Instant): Followed {
  const units = new Map([[unit.unitId, unit]]);
  const received = lines.flatMap((raw, index) => {
    const admission = admit(raw, units);
    return admission.accepted ? [{ line: index + 1, raw, fact: admission.fact }] : [];
  });
  const facts = settle(received).standing.map(({ fact }) => fact);
  return follow(unit, newHead(unit, rules.fold), facts.sort(byKnown), { rules, until });
}

/** The alerts of a replay by their ids. */
export function alertsOf(unit: Unit, { ended, head }: Followed): Record<string, Alert> {
  return Object.fromEntries(
    [...ended, ...head.open].map((episode) => [alertIdOf(episode), toAlert(unit.unitId, episode)]),
  );
}

/** The last that was told of each alert that is not withdrawn, in words that two tellers agree on. */
export function lastHeard(
  transitions: readonly Pick<Transition, 'alertId' | 'change' | 'alert'>[],
): Record<string, string> {
  const last = new Map(transitions.map(({ alertId, change, alert }) => [alertId, { change, alert }]));
  const standing = [...last].filter(([, { change }]) => change !== 'withdrawn');
  return Object.fromEntries(
    standing.map(([alertId, { change, alert }]) => [alertId, `${change} ${alert.severity}`]),
  );
}
