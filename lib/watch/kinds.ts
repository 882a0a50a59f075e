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
  { ...silentUnit, look: (unit, state, rules, at) => silentUnit.look(unit, state, rules['silent-unit'], at) },
  { ...noFlow, look: (unit, state, rules, at) => noFlow.look(unit, state, rules['no-flow'], at) },
  {
    ...lowRegistration,
    look: (unit, state, rules, at) => lowRegistration.look(unit, state, rules['low-registration'], at),
  },
  {
    ...continuousFlow,
    look: (unit, state, rules, at) => continuousFlow.look(unit, state, rules['continuous-flow'], at),
  },
  {
    ...noSaltDraw,
    look: (unit, state, rules, at) => noSaltDraw.look(unit, state, rules['no-salt-draw'], at),
  },
  { ...saltLow, look: (unit, state, rules, at) => saltLow.look(unit, state, rules['salt-low'], at) },
  {
    ...settingMismatch,
    look: (unit, state, rules, at) => settingMismatch.look(unit, state, rules['setting-mismatch'], at),
  },
  { ...clockOff, look: (unit, state, rules, at) => clockOff.look(unit, state, rules['clock-off'], at) },
  {
    ...longRegeneration,
    look: (unit, state, rules, at) => longRegeneration.look(unit, state, rules['long-regeneration'], at),
  },
  {
    ...missedRegeneration,
    look: (unit, state, rules, at) => missedRegeneration.look(unit, state, rules['missed-regeneration'], at),
  },
  {
    ...earlyRegeneration,
    look: (unit, state, rules, at) => earlyRegeneration.look(unit, state, rules['early-regeneration'], at),
  },
  { ...overrun, look: (unit, state, rules, at) => overrun.look(unit, state, rules.overrun, at) },
];

/** Those to which time alone may make a difference. */
export const CLOCK_KINDS: readonly WatchedKind<Rules>[] = KINDS.filter(({ byClock }) => byClock);
