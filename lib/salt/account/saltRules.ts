import * as z from 'zod';

/** The numbers by which regional accounts are worked out and told. Each default says why it is what it is. */
export const saltRulesSchema = () =>
  z.strictObject({
    drawnShare: z
      .strictObject({
        mean: z
          .number()
          .positive()
          .default(0.99)
          .describe(
            'What is drawn of a dose on record where no level sensor tells: a few regenerations go without salt unseen, 0.6 % of doses in simulated fleets with a few faults, 2 % where half of the units are faulty. Of real fleets no source',
          ),
        deviation: z
          .number()
          .positive()
          .default(0.03)
          .describe('Standard deviation of that from company to company. A guess, no source'),
        unitDeviation: z
          .number()
          .positive()
          .default(0.1)
          .describe('Standard deviation from unit to unit, before sensors have told. A guess, no source'),
        unitDeviationUnits: z
          .number()
          .positive()
          .default(10)
          .describe('How many measured units that deviation weighs as much as. A judgement'),
      })
      .prefault({}),
    inUseLeastDays: z
      .int()
      .min(30)
      .max(365)
      .default(180)
      .describe(
        'A unit with fewer reported days in the last 12 months is not judged by its use: over half a year a cycle cut off at either end is under 5 % of it. A judgement, no source',
      ),
    leastUnitsTold: z
      .int()
      .min(1)
      .default(5)
      .describe(
        'A region with fewer units in a month is left out of what is shared: no household is to be read out of it. Common practice of statistical offices, no source',
      ),
  });

export type SaltRules = z.infer<ReturnType<typeof saltRulesSchema>>;
