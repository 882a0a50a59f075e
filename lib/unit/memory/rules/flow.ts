import * as z from 'zod';
import { rate, share } from '../../ruleNumbers.ts';

const gallons = () => z.number().min(0);

/** The numbers by which ../flow.ts remembers. Each default says why it is what it is. */
export const flowRulesSchema = () =>
  z.strictObject({
    leaksPerUnitYear: rate()
      .positive()
      .default(0.1)
      .describe(
        'How often a leak or a fixture left running begins. A guess: one home in ten leaks 90 gallons a day or more (EPA, Fix a Leak Week 2012)',
      ),
    fillingsPerUnitYear: rate()
      .positive()
      .default(0.03)
      .describe(
        'How often water flows for a whole day for a good reason: a pool is filled. A guess, no source',
      ),
    fullHoursPerUnitYear: rate()
      .positive()
      .default(0.3)
      .describe(
        'The same where only the hours with flow are sensed: many people draw in each of them by chance. A guess',
      ),
    goesOn: share()
      .default(0.2)
      .describe('Share of such that go on for each further day. A guess, no source'),
    risesPerUnitYear: rate()
      .positive()
      .default(0.03)
      .describe(
        'How often use rises on all days of a week as by a leak, and there is none: many guests, a garden watered daily. A guess; invented homes show less (3 in 1,000 unit-years at three times the usual)',
      ),
    alike: rate()
      .positive()
      .default(0.5)
      .describe("Runs of whole days that the rates above weigh against a unit's own. A guess, no source"),
    endsUnmended: share()
      .default(0.5)
      .describe('Share of the runs that end without a visit behind which there was no leak. A guess'),
    toleranceMinutes: z
      .number()
      .min(0)
      .default(15)
      .describe('So much may be missing from a whole day: what the meter counts at midnight comes late'),
    leastGallonsOverUsual: gallons()
      .default(60)
      .describe(
        'Where flow minutes are not sensed, a day must also have drawn so much more than usual: 0.1 gal/min makes 144',
      ),
    leastTimesUsual: z
      .number()
      .min(1)
      .default(3.5)
      .describe(
        'Where neither minutes nor hours are sensed, each day of a week must have drawn so many times the usual',
      ),
    pauseBelow: share()
      .default(0.7)
      .describe('A day below this share of that was one with a pause: what ran is over'),
  });

export type FlowRules = z.infer<ReturnType<typeof flowRulesSchema>>;
