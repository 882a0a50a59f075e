import * as z from 'zod';
import { rate, share } from '../../ruleNumbers.ts';

/** The numbers by which ../cycles.ts remembers. Each default says why it is what it is. */
export const cyclesRulesSchema = () =>
  z.strictObject({
    inTimeShare: share()
      .default(0.8)
      .describe(
        'A bed is used up, reserve included, from here on: roundings of capacity and hardness take a tenth, the salt dose is the same all the same',
      ),
    calendarDays: z
      .int()
      .positive()
      .default(7)
      .describe(
        'A cycle ended by hand or by the calendar after so many days is none: a bed that stands is flushed. Common practice, no source',
      ),
    lowUseDays: z
      .int()
      .positive()
      .default(14)
      .describe('A cycle that lasted so long tells of low use, not of waste. Common practice, no source'),
    repeatsPerUnitYear: rate()
      .default(0.02)
      .describe('How often a control begins to regenerate although it is not due. A guess, no source'),
    timedPerUnitYear: rate()
      .default(0.02)
      .describe('The same on nearly every morning, every second or every third. A guess, no source'),
    byHandPerUnitYear: rate()
      .default(0.05)
      .describe('How often somebody takes to starting regenerations by hand. A guess, no source'),
    setLowerPerUnitYear: rate()
      .default(0.03)
      .describe('How often a control is set lower, and no settings event tells of it. A guess, no source'),
    untoldShare: share()
      .default(0.1)
      .describe(
        'The same where the unit has reported settings before, over that: it would have told. A guess',
      ),
    odd: share()
      .default(0.003)
      .describe('Share of sound cycles that end early by the own count for once. A guess'),
    oddAgain: share()
      .default(0.01)
      .describe('The same after another such: odd things come in pairs. A guess'),
    oddUnknown: share()
      .default(0.05)
      .describe('The same where the trigger is not known: it may have been started by hand'),
    onceByHandPerUnitYear: rate()
      .default(0.4)
      .describe('How often a household starts a single one by hand: once in some years. A guess, no source'),
    byHandAgain: share()
      .default(0.05)
      .describe('Share of sound cycles ended by hand soon after another such: people try twice. A guess'),
    endPerUnitYear: rate()
      .default(3)
      .describe('How often such habits and faults end by themselves: after some months. A guess, no source'),
    visitMends: share().default(0.85).describe('Share of visits that end them. A guess, no source'),
  });

export type CyclesRules = z.infer<ReturnType<typeof cyclesRulesSchema>>;
