import { amount } from '../show/amounts.ts';
import type { Likings } from '../show/Likings.tsx';
import type { StoryRegeneration } from './types.ts';

/** What a regeneration drew, and how that is known. */
export function saltWords({ measuredLb, expectedLb }: StoryRegeneration, likings: Likings): string {
  return measuredLb === null
    ? `about ${amount(expectedLb, 'lb', likings)}, inferred`
    : `${amount(measuredLb, 'lb', likings)}, measured`;
}
