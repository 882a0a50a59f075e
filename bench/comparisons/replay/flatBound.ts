import { HELD_MEGABYTES } from '../../../bin/replay/shuffle.ts';
import type { Bound } from '../comparison.ts';

/** What a replay of a history took at most. */
export interface Held {
  /** "100 units x 365 days". */
  readonly name: string;
  readonly megabytesHeld: number;
}

/** Memory is flat in days where the longest history takes at most this much more than the shortest; common sense, no source. */
const FLAT = 0.15;

/** Whether memory stays the same however long the histories are, of which the shortest comes first. */
export function flatBound(histories: readonly Held[]): Bound {
  const [first, second = first, last = second] = [histories[0], histories[1], histories.at(-1)];
  if (!first || !second || !last) throw new RangeError('nothing was replayed');
  const more = moreThan(last, first);
  return {
    what: `Memory of a replay is flat in days: ${last.name} beside ${first.name}`,
    asked: `at most ${100 * FLAT} % more`,
    measured: `${percent(more)} (${histories.map(({ megabytesHeld }) => megabytesHeld.toFixed(0)).join(', ')} MB)`,
    holds: more <= FLAT,
    ...(more > FLAT && { because: because(second, last) }),
  };
}

function because(second: Held, last: Held): string {
  const from = second === last ? '' : ` From ${second.name} on it is ${percent(moreThan(last, second))}.`;
  return `up to ${HELD_MEGABYTES} MB of facts are held before they go to disk, which a short history does not fill.${from}`;
}

function moreThan(a: Held, b: Held): number {
  return a.megabytesHeld / b.megabytesHeld - 1;
}

function percent(share: number): string {
  return `${Math.abs(100 * share).toFixed(0)} % ${share < 0 ? 'less' : 'more'}`;
}
