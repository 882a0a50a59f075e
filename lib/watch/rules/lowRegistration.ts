import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `low-registration` is told. Each default says why it is what it is. */
export const lowRegistrationRulesSchema = () =>
  z.strictObject({
    routine: probability()
      .default(0.5)
      .describe('From here somebody looks at the meter when next at the house: it may also be the pressure'),
    soon: probability()
      .default(0.85)
      .describe('From here a technician is sent: water that is not counted goes through a spent bed'),
    clear: probability()
      .default(0.1)
      .describe('An open episode ends below this: the meter registers all again, or something else changed'),
  });

export type LowRegistrationRules = z.infer<ReturnType<typeof lowRegistrationRulesSchema>>;
