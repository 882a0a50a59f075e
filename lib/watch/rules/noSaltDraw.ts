import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `no-salt-draw` is told. Each default says why it is what it is. */
export const noSaltDrawRulesSchema = () =>
  z.strictObject({
    soon: probability()
      .default(0.8)
      .describe('Hard water follows within days, so a fair certainty is enough to go'),
    urgent: probability()
      .default(0.95)
      .describe('From the second regeneration without salt on: the water is hard by now'),
    clear: probability()
      .default(0.3)
      .describe('A regeneration that drew salt takes the belief well below this at once'),
  });

export type NoSaltDrawRules = z.infer<ReturnType<typeof noSaltDrawRulesSchema>>;
