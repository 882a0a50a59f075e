import { availableParallelism } from 'node:os';
import { setFlagsFromString } from 'node:v8';

/** Three times what V8 waits by default, in bytes of its bytecode. */
const INTERRUPT_BUDGET = 202_752;

/**
 * Where so many threads leave no core over, has V8 do less beside them. It compiles on threads of its own, for each of
 * ours all of a replay, and what it compiles early it compiles again when units of another kind come: so it waits three
 * times as long. Helpers of its collector would only take turns with ours. Where a core is left, both save time.
 */
export function setEngineFlags(threads: number): void {
  if (threads < availableParallelism()) return;
  setFlagsFromString(`--interrupt-budget=${INTERRUPT_BUDGET}`);
  setFlagsFromString('--no-parallel-scavenge');
}
