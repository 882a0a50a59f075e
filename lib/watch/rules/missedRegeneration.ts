import * as z from 'zod';
import { dueRules } from './due.ts';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `missed-regeneration` is told. Each default says why it is what it is. */
export const missedRegenerationRulesSchema = () =>
  z.strictObject({
    ...dueRules(),
    soon: probability()
      .default(0.85)
      .describe('Hard water follows within days, so a fair certainty is enough to go'),
    routine: probability()
      .default(0.6)
      .describe(
        'From here it is shown, where the settings are sure: only a report on its way speaks against it',
      ),
    sureSettings: probability()
      .default(0.15)
      .describe('Settings are sure while it is less probable than this that the control is set to more'),
    routineMornings: z
      .int()
      .positive()
      .default(7)
      .describe('After so many mornings it is shown though the settings are not sure: either needs somebody'),
    clear: probability().default(0.3).describe('Well below what raises it'),
    leftInSetUp: probability()
      .default(0.97)
      .describe('A control that still reports its set-up mode after a night was left in it'),
    setUpNights: z
      .int()
      .positive()
      .default(1)
      .describe('So many nights in set-up mode: whoever programs a control is done within the day'),
    notInService: probability()
      .default(0.5)
      .describe(
        'Share of such failures that are a control out of service, the rest a drive. A guess, no source',
      ),
    reportedInService: probability()
      .default(0.05)
      .describe(
        'What is left of that share where the control reports its settings, and set-up is not among them',
      ),
    urgentShare: z
      .number()
      .positive()
      .default(0.5)
      .describe('Half a bed over: days of hard water, and no end to it'),
  });

export type MissedRegenerationRules = z.infer<ReturnType<typeof missedRegenerationRulesSchema>>;
