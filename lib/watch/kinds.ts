import type { WatchedKind } from './kind.ts';
import { noFlow } from './noFlow.ts';
import { noSaltDraw } from './noSaltDraw.ts';
import { overrun } from './overrun.ts';
import type { Rules } from './rules.ts';

/** Every kind of alert that is watched, causes before their consequences. */
export const KINDS: readonly WatchedKind<Rules>[] = [
  { ...noFlow, look: (unit, state, rules) => noFlow.look(unit, state, rules['no-flow']) },
  { ...noSaltDraw, look: (unit, state, rules) => noSaltDraw.look(unit, state, rules['no-salt-draw']) },
  { ...overrun, look: (unit, state, rules) => overrun.look(unit, state, rules.overrun) },
];
