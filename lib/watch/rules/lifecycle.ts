import * as z from 'zod';

/** The numbers by which an alert lives on after its condition is over. The limits keep a unit's head small. */
export const lifecycleRulesSchema = () =>
  z.strictObject({
    reopenHours: z
      .number()
      .min(0)
      .max(720)
      .default(48)
      .describe(
        'A kind that comes back within so many hours after it cleared goes on as the same alert: most evidence comes once a day, so one odd day parts nothing. A judgement, no source',
      ),
    visitDays: z
      .number()
      .min(0)
      .max(60)
      .default(14)
      .describe(
        'A visit within so many days after an alert cleared still tells what was behind it: by then it is planned or dropped. A judgement, no source',
      ),
  });

export type LifecycleRules = z.infer<ReturnType<typeof lifecycleRulesSchema>>;
