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
import { silentUnit } from './silentUnit.ts';

/** Every kind of alert that is watched, causes before their consequences. */
export const KINDS: readonly WatchedKind<Rules>[] = [
  watched(silentUnit, (unit, state, rules, at, isOpen) =>
    silentUnit.look(unit, state, rules['silent-unit'], at, isOpen),
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
export const CLOCK_KINDS: readonly WatchedKind<Rules>[] = KINDS.filter(({ byClock }) => byClock);

/** A kind that finds its own among all rules. One place makes them all, so that they are objects of one form. */
function watched<KindRules>(
  { kind, consequenceOf, byClock = false }: WatchedKind<KindRules>,
  look: WatchedKind<Rules>['look'],
): WatchedKind<Rules> {
  return { kind, consequenceOf, byClock, look };
}
