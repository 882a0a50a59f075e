import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';
import { TRIAL_ID } from './trialId.ts';

const trialIdSchema = z.string().regex(TRIAL_ID, 'is no number of a trial');

/** What a company overrides of the rules; judged by the rules' own schema. */
const overridesSchema = z.record(z.string(), z.unknown());

/** A trial that is to be made. */
export const trialOrderSchema = z.object({
  companyId: idSchema,
  trialId: trialIdSchema,
  rules: overridesSchema,
});

export type TrialOrder = z.infer<typeof trialOrderSchema>;

/** Neighbouring units of a company, by id from `from` to `to`, both in it: what one step of a trial works on. */
export const trialItemSchema = z.object({
  companyId: idSchema,
  trialId: trialIdSchema,
  part: z.int().min(0),
  from: idSchema,
  to: idSchema,
  units: z.int().min(1),
});

export type TrialItem = z.infer<typeof trialItemSchema>;

/** What all steps of a trial go by: plan.json. */
export const trialPlanSchema = z.object({
  companyId: idSchema,
  trialId: trialIdSchema,
  /** Milliseconds since 1970; both replays end then. */
  until: z.int(),
  present: overridesSchema,
  proposed: overridesSchema,
  parts: z.int().min(0),
  units: z.int().min(0),
});

export type TrialPlan = z.infer<typeof trialPlanSchema>;
