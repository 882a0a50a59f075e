import type { StoryRegeneration } from '../unit/types.ts';

export type SaltSaid = 'drew' | 'did-not' | 'unsure';

/** From here on it is told as drawn, and from one less this on as not. A judgement, no source. */
const SURE = 0.7;

/** Whether a regeneration drew its salt, as far as is known. */
export function saltSaid({ drewSalt }: StoryRegeneration): SaltSaid {
  if (drewSalt >= SURE) return 'drew';
  return drewSalt <= 1 - SURE ? 'did-not' : 'unsure';
}

export const SALT_SAID_WORDS: Readonly<Record<SaltSaid, string>> = {
  drew: 'drew salt',
  'did-not': 'drew no salt',
  unsure: 'unsure whether it drew salt',
};
