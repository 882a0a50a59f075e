import { shareTold } from '../../lib/salt/rounding.ts';
import type { PartOf, PartWords } from './shares.ts';

/** What days are called by how they are known. */
export const DAY_WORDS = {
  known: 'reported',
  estimated: 'estimated',
  missing: 'missing',
} as const satisfies PartWords;

/** Such as `56 % measured, 42 % inferred, 2 % estimated`, as in the report; what is nothing is left out. */
export function shareWords(shares: readonly PartOf[], words: PartWords): string {
  return shares
    .filter(({ value }) => value > 0)
    .map(({ part, value }) => `${shareTold(value)} ${words[part] ?? part}`)
    .join(', ');
}
