import type { Fact } from '../../shared/facts.ts';

/** One accepted line of a unit's events. `raw` is the line itself, to tell a copy from a conflict. */
export interface Received {
  line: number;
  raw: string;
  fact: Fact;
}
