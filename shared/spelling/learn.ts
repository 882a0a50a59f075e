import type { WireEvent } from '../events.ts';
import { spellingOf } from './spellingOf.ts';
import { keep, mayLearn } from './usual.ts';

/**
 * Learns how an accepted line is spelt, so that the next one like it can be read quickly. By itself, since it takes the
 * schemas, and whoever only reads needs none.
 *
 * @param event what it says, which must not be used any more
 */
export function learn(line: string, event: WireEvent): void {
  if (!mayLearn(line)) return;
  const spelling = spellingOf(line, event);
  if (spelling) keep(spelling, event);
}
