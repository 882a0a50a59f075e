import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `early-regeneration` is told. Each default says why it is what it is. */
export const earlyRegenerationRulesSchema = () =>
  z.strictObject({
    raise: probability()
      .default(0.8)
      .describe('Waste goes on for months before anybody sees it: some cycles more do no harm'),
    clear: probability()
      .default(0.25)
      .describe('Some cycles in time, or a visit, take the belief below this'),
    tooLowShare: z
      .number()
      .positive()
      .default(0.82)
      .describe(
        'A control that goes by less than this share of the true capacity is set too low: a tenth goes into roundings, and as much into caution',
      ),
    capacitySpread: z
      .number()
      .positive()
      .default(0.06)
      .describe('Relative standard deviation of a true capacity about the curve, as for overruns'),
    dueCycles: z
      .int()
      .positive()
      .default(2)
      .describe(
        'So many cycles must have ended early by a setting that is known before it is told: again and again',
      ),
  });

export type EarlyRegenerationRules = z.infer<ReturnType<typeof earlyRegenerationRulesSchema>>;
