import * as z from 'zod';
import { share } from '../../ruleNumbers.ts';

/** The numbers by which ../saltUse.ts remembers. Each default says why it is what it is. */
export const saltUseRulesSchema = () =>
  z.strictObject({
    refillLb: z
      .number()
      .positive()
      .default(12)
      .describe(
        'A rise of less is noise: a bag is 40 lb, and hardly anybody carries down less than a third of one (common practice, no source)',
      ),
    doseSpread: share()
      .default(0.15)
      .describe('Salt drawn at one regeneration deviates so much from the usual. A guess, no source'),
    refillsKept: z
      .int()
      .min(1)
      .default(8)
      .describe('A year or two of refills: a household may change its ways'),
  });
