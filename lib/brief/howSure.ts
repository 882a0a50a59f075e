/** Words for a probability, from its least. A choice of words, no source. */
const WORDS = [
  [0.95, 'almost certain'],
  [0.8, 'very likely'],
  [0.6, 'likely'],
  [0.4, 'as likely as not'],
  [0.15, 'possible'],
  [0, 'unlikely'],
] as const;

/** How sure something of a probability is, in plain words. */
export function howSure(probability: number): string {
  return WORDS.find(([least]) => probability >= least)?.[1] ?? 'unlikely';
}
