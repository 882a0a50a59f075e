import * as z from 'zod';
import { share } from '../../unit/ruleNumbers.ts';

/** The numbers by which a control is judged that was due by its count and is not known to have regenerated. */
export const dueRules = () => ({
  failuresPerUnitYear: z
    .number()
    .positive()
    .default(0.06)
    .describe('How often a drive fails, or a control is left in its set-up mode. A guess, no source'),
  setOtherwisePerUnitYear: z
    .number()
    .min(0)
    .default(0.1)
    .describe('How often a control is set to another capacity and nobody says so. A guess, no source'),
  setAfterLoss: share()
    .default(0.8)
    .describe('Probability of that once it has lost its settings in a power failure. A guess, no source'),
  setSpread: z
    .number()
    .positive()
    .default(0.35)
    .describe(
      'Standard deviation of the logarithm of such a capacity over the known one. A guess, no source',
    ),
  reportedChange: share()
    .default(0.05)
    .describe(
      'Share of changes that a control which reports its settings keeps to itself. A guess, no source',
    ),
  countSpread: z
    .number()
    .positive()
    .default(0.03)
    .describe(
      'Relative standard deviation of a count: what is drawn before the hour, conversion, a changed clock',
    ),
  imputedSpread: z
    .number()
    .positive()
    .default(0.5)
    .describe('The same of use put in the place of missing days: that of a household day'),
  reportedLate: share()
    .default(0.004)
    .describe('Share of regenerations that are reported more than a day late. A guess, no source'),
  lateGoesOn: share()
    .default(0.6)
    .describe('Share of those that stay unreported for each day more. A guess, no source'),
  neverReported: share()
    .default(0.0001)
    .describe('Share of regenerations of which nothing is ever heard. A guess, no source'),
  comesBack: share()
    .default(0.1)
    .describe('Share of such failures that go away by themselves. A guess, no source'),
  firstCycleInGap: share()
    .default(0.15)
    .describe(
      'Probability that a day without a report was that of a regeneration, in a cycle of unknown begin',
    ),
  doseSpread: z
    .number()
    .positive()
    .default(0.2)
    .describe('Relative standard deviation of the salt of one regeneration about the usual'),
});

const dueRulesSchema = () => z.strictObject(dueRules());

export type DueRules = z.infer<ReturnType<typeof dueRulesSchema>>;
