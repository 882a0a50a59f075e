import * as z from 'zod';
import { share } from '../../ruleNumbers.ts';

/** The numbers by which ../duration.ts remembers. Each default says why it is what it is. */
export const durationRulesSchema = () =>
  z.strictObject({
    usualMinutes: z
      .number()
      .positive()
      .default(105)
      .describe(
        'What a regeneration takes before any was seen: 90 to 120 minutes. Common practice, no source',
      ),
    unknownSpread: z
      .number()
      .positive()
      .default(0.35)
      .describe(
        'Standard deviation of the logarithm of that from unit to unit: large beds take twice as long. A guess',
      ),
    spread: z
      .number()
      .positive()
      .default(0.06)
      .describe(
        'The same from one regeneration of a unit to the next: its steps are timed. A guess, no source',
      ),
    failuresPerUnitYear: z
      .number()
      .min(0)
      .default(0.03)
      .describe('How often the drive begins to fail so. A guess, no source'),
    longWhenFailed: share()
      .default(0.6)
      .describe('Share of the regenerations of a failing drive that are long: all, or every second'),
    oddlyLong: share()
      .default(3e-4)
      .describe(
        'Share of sound regenerations that are long for once: held up by hand, a slow refill. A guess',
      ),
    mendedByVisit: share().default(0.9).describe('Share of visits after which the drive is sound'),
  });

export type DurationRules = z.infer<ReturnType<typeof durationRulesSchema>>;
