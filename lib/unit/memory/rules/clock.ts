import * as z from 'zod';
import { rate, share } from '../../ruleNumbers.ts';

/** The numbers by which ../clock.ts remembers. Each default says why it is what it is. */
export const clockRulesSchema = () =>
  z.strictObject({
    withinHours: z
      .number()
      .positive()
      .default(1.25)
      .describe(
        'Nothing is wrong within a summer-time hour and the quarter of an hour by which a start may be late',
      ),
    twelvesPerUnitYear: rate()
      .default(0.02)
      .describe('How often morning and evening come to be swapped. A guess, no source'),
    driftsPerUnitYear: rate()
      .default(0.03)
      .describe('How often a clock begins to run off otherwise. A guess, no source'),
    changesPerUnitYear: rate()
      .default(0.004)
      .describe(
        'How often somebody programs another hour and no settings event tells of it. A guess, no source; as large as it must be for starts at a full hour of the night to be taken for that rather than for a wrong clock',
      ),
    changedAtVisit: share()
      .default(0.01)
      .describe('Share of visits that program another hour and do not tell. A guess, no source'),
    wrongAtFirst: share()
      .default(0.003)
      .describe(
        'Share of clocks that are swapped, and of those otherwise wrong, from the beginning. A guess',
      ),
    recordWrongAtFirst: share()
      .default(0.03)
      .describe('Share of units whose record has another hour than the control from the beginning. A guess'),
    lossMakesTwelve: share()
      .default(0.3)
      .describe('Share of failures with lost settings after which morning and evening are swapped. A guess'),
    lossMakesDrift: share()
      .default(0.05)
      .describe('Share of those after which the clock is wrong otherwise. A guess, no source'),
    failureMakesTwelve: share()
      .default(0.02)
      .describe(
        'Share of failures with kept settings after which they are swapped: many clocks stop. A guess',
      ),
    failureMakesDrift: share()
      .default(0.02)
      .describe('Share of those after which the clock is wrong otherwise. A guess, no source'),
    oddStart: share()
      .default(0.01)
      .describe(
        'Share of regenerations by the own count that begin at any hour for some other reason. A guess',
      ),
    oddStartUnknown: share()
      .default(0.3)
      .describe('The same where the trigger is not known: many of them were started by hand'),
    oddStartAfterLoss: share()
      .default(0.1)
      .describe(
        'The same for the first after a failure with lost settings: it may make up for one cut short',
      ),
    oddStartAfterFailure: share().default(0.03).describe('The same for the first after another failure'),
    wrongReport: share()
      .default(2e-5)
      .describe('Share of settings events whose clock is not what the control showed then. A guess'),
    setRightPerUnitYear: rate()
      .default(3)
      .describe('How often somebody at home sets a wrong clock right. A guess, no source'),
    visitSetsRight: share()
      .default(0.85)
      .describe('Share of visits that set a wrong clock right: it takes a minute'),
  });

export type ClockRules = z.infer<ReturnType<typeof clockRulesSchema>>;
