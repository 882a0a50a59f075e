import type { Likings } from '../show/Likings.tsx';
import type { PartOf, PartWords } from './shares.ts';

/** What days are called by how they are known. */
export const DAY_WORDS = {
  known: 'reported',
  estimated: 'estimated',
  missing: 'missing',
} as const satisfies PartWords;

/** Such as `56 % measured, 42 % inferred, 2 % estimated`; what is nothing is left out. */
export function shareWords(
  shares: readonly PartOf[],
  words: PartWords,
  { locale }: Pick<Likings, 'locale'>,
): string {
  // To a tenth, so that they make up 100 % again.
  const format = new Intl.NumberFormat(locale, { style: 'percent', maximumFractionDigits: 1 });
  return shares
    .filter(({ value }) => value > 0)
    .map(({ part, value }) => `${format.format(value)} ${words[part] ?? part}`)
    .join(', ');
}
