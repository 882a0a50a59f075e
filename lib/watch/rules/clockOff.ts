import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `clock-off` is told. Each default says why it is what it is. */
export const clockOffRulesSchema = () =>
  z.strictObject({
    raise: probability()
      .default(0.75)
      .describe(
        'Two wrong starts that agree come well above this, one comes nowhere near; a look settles it',
      ),
    clear: probability()
      .default(0.3)
      .describe('A visit takes the belief well below this; so does a right start'),
    soonShare: probability()
      .default(0.05)
      .describe(
        'Somebody is sent where the household draws this share of its day, or more, while the unit regenerates: that water is hard',
      ),
    regenerationHours: z
      .number()
      .positive()
      .default(1.75)
      .describe('How long a regeneration takes: 90 to 120 minutes, common practice, no source'),
  });

export type ClockOffRules = z.infer<ReturnType<typeof clockOffRulesSchema>>;
