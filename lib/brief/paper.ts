export const PAPERS = ['a4', 'letter'] as const;

export type Paper = (typeof PAPERS)[number];

/** Where paper is cut to inches. From memory, unverified: more countries of the Americas use it too. */
const LETTER: ReadonlySet<string | undefined> = new Set(['US', 'CA']);

/** The paper that somebody's printer has, by their language tag; A4 where that names no country. */
export function paperFor(locale: string | undefined): Paper {
  if (locale === undefined) return 'a4';
  return LETTER.has(new Intl.Locale(locale).region) ? 'letter' : 'a4';
}
