import * as z from 'zod';

/** The numbers by which ../reporting.ts remembers. Each default says why it is what it is. */
export const reportingRulesSchema = () =>
  z.strictObject({
    memoryDays: z
      .number()
      .positive()
      .default(730)
      .describe(
        'Once so many days of reporting are on record, what was counted of them is halved: habits change',
      ),
  });
