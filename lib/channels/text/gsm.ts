/** GSM 03.38 (3GPP TS 23.038), section 6.2.1: the default alphabet without the escape, and what is escaped. */
const BASIC =
  '@£$¥èéùìòÇ\nØø\rÅåΔ_ΦΓΛΩΠΨΣΘΞÆæßÉ !"#¤%&\'()*+,-./0123456789:;<=>?¡ABCDEFGHIJKLMNOPQRSTUVWXYZÄÖÑÜ§¿abcdefghijklmnopqrstuvwxyzäöñüà';
const ESCAPED = '\f^{}\\[~]|€';

const SEPTETS: ReadonlyMap<string, number> = new Map([
  ...[...BASIC].map((character) => [character, 1] as const),
  ...[...ESCAPED].map((character) => [character, 2] as const),
]);

/** What reads the same, for what the alphabet lacks and what does not come apart into letters of it. */
const LIKE: Readonly<Partial<Record<string, string>>> = {
  '`': "'",
  '´': "'",
  '‘': "'",
  '’': "'",
  '“': '"',
  '”': '"',
  '‐': '-',
  '–': '-',
  '—': '-',
  '−': '-',
  '×': 'x',
  '≥': '>=',
  '≤': '<=',
};

/** A text in that alphabet; what has no likeness in it is a question mark. */
export function toGsm(text: string): string {
  return [...text].map((character) => (SEPTETS.has(character) ? character : likenessOf(character))).join('');
}

/** How much of a message a text in that alphabet takes, septets: a plain message holds 160. */
export function septetsOf(text: string): number {
  return [...text].reduce((sum, character) => sum + (SEPTETS.get(character) ?? 0), 0);
}

function likenessOf(character: string): string {
  const like = LIKE[character] ?? character.normalize('NFKD').replace(/\p{M}/gu, '');
  return like !== '' && [...like].every((part) => SEPTETS.has(part)) ? like : '?';
}
