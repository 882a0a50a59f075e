import * as z from 'zod';
import { HORIZON_DAYS } from '../../demand/useAhead.ts';

const probability = () => z.number().min(0).max(1);
const days = () => z.int().min(1).max(HORIZON_DAYS);

/** The numbers by which `salt-low` is told. Each default says why it is what it is. */
export const saltLowRulesSchema = () =>
  z.strictObject({
    horizonDays: days()
      .default(21)
      .describe('Told when salt will run out within so many days: time for a round to pass the house'),
    soonDays: days().default(5).describe('Within so many days somebody is sent, or the household is called'),
    routine: probability().default(0.7).describe('Rather likely than not, with something in hand for noise'),
    soon: probability().default(0.7).describe('The same, of the salt running out within the shorter time'),
    clear: probability()
      .default(0.1)
      .describe(
        'An open episode ends below this, as after a refill; far below what raises it, against flicker',
      ),
    habitRefills: z
      .int()
      .min(1)
      .default(3)
      .describe('So many refills without a word are a habit; a home with fewer is told by the horizon alone'),
    leastDays: days().default(3).describe('Told within so many days whatever the habit of the household'),
    pastHabit: z
      .number()
      .min(0)
      .max(1)
      .default(0.75)
      .describe(
        'Past its habit is a household with less than this share of the fewest days of salt at which it refilled',
      ),
    freshHours: z
      .number()
      .positive()
      .default(12)
      .describe('Nothing is raised on a reading known for longer: the household may have refilled since'),
    cycleSpread: probability()
      .default(0.1)
      .describe('What is taken for the water of a cycle may be off by so much. A guess, no source'),
    doseSpread: probability()
      .default(0.15)
      .describe('Salt drawn at one regeneration deviates so much from the usual. A guess, no source'),
  });

export type SaltLowRules = z.infer<ReturnType<typeof saltLowRulesSchema>>;
