import * as z from 'zod';
import { PUBLISHED_PRIOR } from './prior.ts';

const chance = () => z.number().min(0.001).max(0.98);
const weight = () => z.number().positive();

/** What a new household is taken for, and on which dates a region lives as on a Sunday. */
export const demandRulesSchema = () =>
  z.strictObject({
    prior: z
      .strictObject({
        level: z
          .number()
          .positive()
          .default(PUBLISHED_PRIOR.level)
          .describe(
            'Mean use of a day at home, US gallons: indoor use of a home, Water Research Foundation 2016',
          ),
        levelVariance: weight()
          .default(PUBLISHED_PRIOR.levelVariance)
          .describe('Variance of that between homes over its square: NRC 1999, geometric deviation 1.8'),
        spread: weight()
          .default(PUBLISHED_PRIOR.spread)
          .describe('Variance of a day over its square. From memory, unverified'),
        spreadDays: weight()
          .default(PUBLISHED_PRIOR.spreadDays)
          .describe('Days that this weighs. A judgement'),
        weekday: z
          .array(z.number().positive())
          .length(7)
          .default([...PUBLISHED_PRIOR.weekday])
          .describe('Use of each weekday over the mean, Sunday first: homes differ more than days do'),
        weekdayWeeks: weight()
          .default(PUBLISHED_PRIOR.weekdayWeeks)
          .describe('Weeks that this weighs. A judgement'),
        leaving: chance()
          .default(PUBLISHED_PRIOR.leaving)
          .describe('Chance that a home day is followed by an away day. A guess, no source'),
        leavingDays: weight()
          .default(PUBLISHED_PRIOR.leavingDays)
          .describe('Days that this weighs. A judgement'),
        returning: chance()
          .default(PUBLISHED_PRIOR.returning)
          .describe('Chance that the first away day is followed by a home day. A guess, no source'),
        returningDays: weight()
          .default(PUBLISHED_PRIOR.returningDays)
          .describe('Days that this weighs. A judgement'),
      })
      .prefault({})
      .describe(
        'What a home is taken for before its own days speak; a fleet knows its own: brinebell backtest',
      ),
    holidays: z
      .record(z.string(), z.array(z.iso.date()))
      .default({})
      .describe(
        'By region, local dates on which households live as on a Sunday. None: calendars differ, and a region that names none is no worse off than before',
      ),
  });

export type DemandRules = z.infer<ReturnType<typeof demandRulesSchema>>;
