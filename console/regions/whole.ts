import type { Wholeness } from '../../lib/salt/account/wholeness.ts';

/** What is said of a month that is not whole. */
export const WHOLENESS_WORDS: Readonly<Record<Exclude<Wholeness, 'whole'>, string>> = {
  running: 'not over yet',
  'begun-within': 'watched for a part of it only',
};
