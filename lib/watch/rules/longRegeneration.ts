import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `long-regeneration` is told. Each default says why it is what it is. */
export const longRegenerationRulesSchema = () =>
  z.strictObject({
    routine: probability()
      .default(0.5)
      .describe('A single one of twice the usual or more: worth a look, not a trip'),
    soon: probability()
      .default(0.8)
      .describe(
        'The second long one, or a single one of three times the usual: the drive stops for good before long',
      ),
    clear: probability()
      .default(0.2)
      .describe('A visit takes the belief below this; two in a row as usual take it to 0'),
  });

export type LongRegenerationRules = z.infer<ReturnType<typeof longRegenerationRulesSchema>>;
