import type { Fact } from '../../shared/facts.ts';
import type { Instant } from '../../shared/time/instant.ts';
import type { UnitState } from '../unit/state.ts';
import { clockOff } from './clockOff.ts';
import { continuousFlow } from './continuousFlow.ts';
import { earlyRegeneration } from './earlyRegeneration.ts';
import type { WatchedKind } from './kind.ts';
import { longRegeneration } from './longRegeneration.ts';
import { lowRegistration } from './lowRegistration.ts';
import { missedRegeneration } from './missedRegeneration.ts';
import { noFlow } from './noFlow.ts';
import { noSaltDraw } from './noSaltDraw.ts';
import { overrun } from './overrun.ts';
import type { Rules } from './rules.ts';
import { saltLow } from './saltLow.ts';
import { settingMismatch } from './settingMismatch.ts';
import { silenceFrom, silentUnit } from './silentUnit.ts';

/** Every kind of alert that is watched, causes before their consequences. */
export const KINDS: readonly WatchedKind<Rules>[] = [
  watched(
    silentUnit,
    (unit, state, rules, at, isOpen) => silentUnit.look(unit, state, rules['silent-unit'], at, isOpen),
    (state, rules) => silenceFrom(state, rules['silent-unit']),
  ),
  watched(noFlow, (unit, state, rules, at, isOpen) => noFlow.look(unit, state, rules['no-flow'], at, isOpen)),
  watched(lowRegistration, (unit, state, rules, at, isOpen) =>
    lowRegistration.look(unit, state, rules['low-registration'], at, isOpen),
  ),
  watched(continuousFlow, (unit, state, rules, at, isOpen) =>
    continuousFlow.look(unit, state, rules['continuous-flow'], at, isOpen),
  ),
  watched(noSaltDraw, (unit, state, rules, at, isOpen) =>
    noSaltDraw.look(unit, state, rules['no-salt-draw'], at, isOpen),
  ),
  watched(saltLow, (unit, state, rules, at, isOpen) =>
    saltLow.look(unit, state, rules['salt-low'], at, isOpen),
  ),
  watched(settingMismatch, (unit, state, rules, at, isOpen) =>
    settingMismatch.look(unit, state, rules['setting-mismatch'], at, isOpen),
  ),
  watched(clockOff, (unit, state, rules, at, isOpen) =>
    clockOff.look(unit, state, rules['clock-off'], at, isOpen),
  ),
  watched(longRegeneration, (unit, state, rules, at, isOpen) =>
    longRegeneration.look(unit, state, rules['long-regeneration'], at, isOpen),
  ),
  watched(missedRegeneration, (unit, state, rules, at, isOpen) =>
    missedRegeneration.look(unit, state, rules['missed-regeneration'], at, isOpen),
  ),
  watched(earlyRegeneration, (unit, state, rules, at, isOpen) =>
    earlyRegeneration.look(unit, state, rules['early-regeneration'], at, isOpen),
  ),
  watched(overrun, (unit, state, rules, at, isOpen) => overrun.look(unit, state, rules.overrun, at, isOpen)),
];

/** Those to which time alone may make a difference. */
export const CLOCK_KINDS: readonly WatchedKind<Rules>[] = KINDS.filter(({ wakesAt }) => wakesAt);

/** The instant before which time alone shows none of them anything, as long as no fact comes. */
export function wakesAt(state: UnitState, rules: Rules): Instant {
  let first = Number.POSITIVE_INFINITY;
  for (const kind of CLOCK_KINDS) first = Math.min(first, kind.wakesAt?.(state, rules) ?? first);
  return first;
}

const HEEDING = new Map<Fact['kind'], readonly WatchedKind<Rules>[]>();

/** Those that may see something after a fact of a kind which they did not see before. */
export function kindsHeeding(fact: Fact['kind']): readonly WatchedKind<Rules>[] {
  let kinds = HEEDING.get(fact);
  if (!kinds) {
    kinds = KINDS.filter(({ heeds }) => !heeds || heeds.includes(fact));
    HEEDING.set(fact, kinds);
  }
  return kinds;
}

/** A kind that finds its own among all rules. One place makes them all, so that they are objects of one form. */
function watched<KindRules>(
  { kind, consequenceOf, heeds }: WatchedKind<KindRules>,
  look: WatchedKind<Rules>['look'],
  wakesAt?: WatchedKind<Rules>['wakesAt'],
): WatchedKind<Rules> {
  return { kind, consequenceOf, heeds, wakesAt, look };
}
