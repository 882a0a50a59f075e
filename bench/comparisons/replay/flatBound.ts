import type { Bound } from '../comparison.ts';

/** Memory is flat in days where the longest history takes at most this much more than the shortest. */
const FLAT = 0.15;

/** Whether memory stays the same however long the histories are; from the shortest to the longest. */
export function flatBound(took: readonly { readonly name: string; readonly megabytes: number }[]): Bound {
  const [first, last] = [took[0], took.at(-1)];
  const more = (last?.megabytes ?? Number.NaN) / (first?.megabytes ?? Number.NaN) - 1;
  return {
    what: `Memory of a replay is flat in days: ${last?.name} beside ${first?.name}`,
    asked: `at most ${100 * FLAT} % more`,
    measured: `${(100 * more).toFixed(0)} % more (${took.map(({ megabytes }) => megabytes.toFixed(0)).join(', ')} MB)`,
    holds: more <= FLAT,
    ...(more > FLAT && {
      because:
        'text is held in memory up to 32 MB before it goes to disk, which the shortest history may not fill; beyond that the heap grows as the collector lets it.',
    }),
  };
}
