import * as z from 'zod';

const probability = () => z.number().min(0).max(1);
const days = () => z.number().min(0);

/** The numbers by which `silent-unit` is told. Each default says why it is what it is. */
export const silentUnitRulesSchema = () =>
  z.strictObject({
    silencesPerUnitYear: z
      .number()
      .positive()
      .default(0.1)
      .describe(
        'How often a unit falls silent until somebody sees to it (a gateway unplugged, a router changed, a board that died): once in ten years. A guess, no source',
      ),
    ordinaryGaps: z
      .array(z.strictObject({ beyondDays: days(), perYear: z.number().positive() }))
      .min(2)
      .default([
        { beyondDays: 0.2, perYear: 3 },
        { beyondDays: 1.2, perYear: 0.1 },
        { beyondDays: 2.2, perYear: 0.05 },
        { beyondDays: 4, perYear: 0.03 },
        { beyondDays: 30, perYear: 0.005 },
      ])
      .describe(
        'How many gaps a year end by themselves so many days or more beyond the usual one, in an average unit: 0.3 % of days lost, others late, now and then an outage. A guess, no source',
      ),
    alike: z
      .number()
      .positive()
      .default(0.15)
      .describe(
        'How alike units are in that: the shape of the gamma distribution of their rates. Of 45 homes of an open trial (fixtures/daiad-alicante) two thirds have hardly a gap and a few dozens',
      ),
    leastBeyondDays: days()
      .default(1.2)
      .describe('Nothing is said sooner beyond the usual gap: any unit loses a report now and then'),
    habitShare: probability()
      .default(0.2)
      .describe('Gaps that make up this share of the time are what the unit usually does, and not outages'),
    newGaps: z
      .number()
      .min(0)
      .default(6)
      .describe('With fewer gaps on record a unit may turn out to be one that delivers every week'),
    weeklyDays: days().default(7.4).describe('Such a gap is nothing odd in a new unit'),
    routine: probability()
      .default(0.4)
      .describe('From here somebody looks, when it suits: that costs little'),
    soon: probability().default(0.5).describe('From here somebody is sent, if it has lasted long enough'),
    soonAfterDays: days()
      .default(7)
      .describe(
        'Nobody is sent before the silence is so many days beyond the usual gap: most of them end by then',
      ),
    clear: probability().default(0.2).describe('An open episode ends below this: half of what raises it'),
  });

export type SilentUnitRules = z.infer<ReturnType<typeof silentUnitRulesSchema>>;
