import * as z from 'zod';
import { rate, share } from '../../ruleNumbers.ts';

/** The numbers by which ../meterShare.ts remembers. Each default says why it is what it is. */
export const meterShareRulesSchema = () =>
  z.strictObject({
    obstructionsPerUnitYear: rate()
      .default(0.08)
      .describe(
        'How often a meter begins to be obstructed: once in some 12 years. A guess, no source; with twice as many a real home whose largest hours stood for its peaks was taken for one',
      ),
    deepensADay: share()
      .default(0.1)
      .describe(
        'How often, a day, an obstruction that has begun gets worse by a step: they creep in over days',
      ),
    easesADay: share().default(0.01).describe('How often, a day, it gets better by a step. A guess'),
    clearsADay: share().default(0.002).describe('How often, a day, it is washed out by itself. A guess'),
    clearedByVisit: share()
      .default(0.7)
      .describe('Share of the visits after which it is gone although nothing is said of the meter. A guess'),
    useChangesPerUnitYear: rate()
      .default(3)
      .describe('How often a household begins to draw much less or more: guests, seasons, people. A guess'),
    useBackADay: share()
      .default(0.03)
      .describe('How often, a day, that is over, or has become usual: after a month. A guess'),
    peakChangesPerUnitYear: rate()
      .default(0.02)
      .describe('How often peaks change and nothing else does: pressure, fixtures. A guess, no source'),
    peakBackADay: share()
      .default(0.01)
      .describe('How often, a day, that has become usual: after 100. A guess'),
    oddPeaks: share()
      .default(0.03)
      .describe(
        'Share of days whose peak is like no other. A guess: 2 of 174 lie beyond 2.5 standard deviations in an apartment',
      ),
    oddUse: share()
      .default(0.1)
      .describe('Share of days whose use is like no other: somebody leaves at noon, or has a feast. A guess'),
    oddHours: share().default(0.05).describe('The same of the hours with flow. A guess'),
    peakWeight: share()
      .default(1)
      .describe(
        'How much a day tells by its peak: all, for peaks of two days hardly go together (correlations -0.05 and 0.11 in two homes)',
      ),
    useWeight: share()
      .default(0.35)
      .describe(
        'The same by its use: a third, for a household that draws more or less than usual does so for days',
      ),
    hoursWeight: share()
      .default(0.3)
      .describe(
        'The same by its hours with flow: those of two days go together (correlations -0.06 to 0.79 in eight homes)',
      ),
    learntDays: rate()
      .default(21)
      .describe('Days that must have been seen before one is judged: three weeks'),
    leastGallons: rate()
      .default(8)
      .describe('A day of less says nothing: somebody washed their hands, an icemaker ran'),
    leastShareOfUsual: share()
      .default(0.12)
      .describe('Nor does one of less than this share of the usual: the household is away, or just back'),
    mostFlowMinutes: rate()
      .default(360)
      .describe('Nor does one on which water ran so long without a pause: a leak, a pool, a garden'),
    frozenFrom: share()
      .default(0.05)
      .describe('From this probability of an obstruction on nothing is learnt of what is usual'),
  });

export type MeterShareRules = z.infer<ReturnType<typeof meterShareRulesSchema>>;
