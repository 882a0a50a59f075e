import * as z from 'zod';
import { dueRules } from './due.ts';

/** The numbers by which `overrun` is told. Each default says why it is what it is. */
export const overrunRulesSchema = () =>
  z.strictObject({
    ...dueRules(),
    raise: z
      .number()
      .min(0)
      .max(1)
      .default(0.95)
      .describe('Nearly sure: with the spread below, about 10 % over what the record makes the capacity'),
    clear: z
      .number()
      .min(0)
      .max(1)
      .default(0.5)
      .describe('A whole cycle that is likelier than not to have stayed within'),
    capacitySpread: z
      .number()
      .positive()
      .default(0.06)
      .describe(
        'Relative standard deviation of a true capacity about the curve: resin age (5 % a year by UFC 3-240-13FN), dose, meter',
      ),
    imputedSpread: z
      .number()
      .positive()
      .default(0.5)
      .describe(
        'Relative standard deviation of the use put in the place of missing days: that of a household day',
      ),
    settingTolerance: z
      .number()
      .positive()
      .default(0.07)
      .describe('A control that goes by this much more than the true capacity is set wrong'),
    urgentShare: z
      .number()
      .positive()
      .default(0.5)
      .describe('Half a bed over: days of hard water, and no end to it'),
    harmShare: z
      .number()
      .min(0)
      .default(0.13)
      .describe(
        'A reserve that was short of a great day is shown from so much over: 15 % of a bed that gives a little less',
      ),
    patternCycles: z
      .int()
      .positive()
      .default(2)
      .describe('Or where so many cycles in a row ran over, by `patternShare` each'),
    patternShare: z.number().min(0).default(0.1).describe('Nearly sure, as `raise` is'),
    patternSpread: z
      .number()
      .positive()
      .default(10)
      .describe(
        'How far such shares may differ: a household that is too large for its bed has no steady share',
      ),
    meterFaultsPerUnitYear: z
      .number()
      .min(0)
      .default(0.06)
      .describe('How often a meter begins to stick, as for no-flow. A guess, no source'),
  });

export type OverrunRules = z.infer<ReturnType<typeof overrunRulesSchema>>;
