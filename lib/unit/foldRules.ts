import * as z from 'zod';
import { demandRulesSchema } from '../demand/demandRules.ts';
import { DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L } from '../softening/iron.ts';
import { clockRulesSchema } from './memory/rules/clock.ts';
import { cyclesRulesSchema } from './memory/rules/cycles.ts';
import { durationRulesSchema } from './memory/rules/duration.ts';
import { flowRulesSchema } from './memory/rules/flow.ts';
import { meterShareRulesSchema } from './memory/rules/meterShare.ts';
import { reportingRulesSchema } from './memory/rules/reporting.ts';
import { saltUseRulesSchema } from './memory/rules/saltUse.ts';
import { visitsRulesSchema } from './memory/rules/visits.ts';
import { share } from './ruleNumbers.ts';

/** The numbers by which a unit's events are read. Each default says why it is what it is. */
export const foldRulesSchema = () =>
  z.strictObject({
    ironAllowanceGpgPerMgPerL: z
      .number()
      .min(0)
      .default(DEFAULT_IRON_ALLOWANCE_GPG_PER_MG_PER_L)
      .describe('Hardness added for each mg/L of iron; common practice, no source'),
    draw: z
      .strictObject({
        emptyOnset: share()
          .default(0.004)
          .describe(
            'A tank runs dry at about one regeneration in 250: once in two or three years. A guess, no source',
          ),
        bridgedOnset: share()
          .default(0.002)
          .describe('Salt bridges about half as often as it runs out. A guess, no source'),
        notDrawnOnset: share()
          .default(0.002)
          .describe('Brine line, injector or air check fail as often. A guess, no source'),
        selfCure: share()
          .default(0.02)
          .describe('Such faults hardly mend themselves; a refill that no sensor saw does it'),
        cureByHand: share()
          .default(0.9)
          .describe('Salt put into an empty tank, or a technician, mostly puts it right'),
      })
      .prefault({}),
    demand: demandRulesSchema().prefault({}),
    reporting: reportingRulesSchema().prefault({}),
    meterShare: meterShareRulesSchema().prefault({}),
    flow: flowRulesSchema().prefault({}),
    clock: clockRulesSchema().prefault({}),
    duration: durationRulesSchema().prefault({}),
    cycles: cyclesRulesSchema().prefault({}),
    saltUse: saltUseRulesSchema().prefault({}),
    visits: visitsRulesSchema().prefault({}),
  });

export type FoldRules = z.infer<ReturnType<typeof foldRulesSchema>>;
