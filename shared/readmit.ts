import type { Fact } from './facts.ts';
import type { Unit } from './registry.ts';
import { readUsual, type Usual } from './spelling/usual.ts';
import { factOf, toFact } from './toFact.ts';

/** The fact on a line that `admit` has let through before, without judging it again. */
export function readmit(line: string, unit: Unit): Fact {
  const usual = readUsual(line);
  if (usual) return usualFact(usual, unit);
  return toFact(JSON.parse(line), unit.zone);
}

/** The fact on a line that is spelt as usual. */
export function usualFact({ event, id, time, recorded }: Usual, unit: Unit): Fact {
  return factOf(event, id.value, time.value, recorded ? recorded.value : time.value, unit.zone);
}
