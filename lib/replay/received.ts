import type { Fact } from '../../shared/facts.ts';

/** One accepted line of a unit's events. `raw` is the line itself, to tell a copy from a conflict: it may cost to ask for it. */
export interface Received {
  readonly line: number;
  readonly raw: string;
  readonly fact: Fact;
}
