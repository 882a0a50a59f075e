import * as z from 'zod';
import { ALERT_KINDS, CAUSES, SEVERITIES } from './alerts.ts';
import { idSchema } from './ids.ts';
import { instantSchema } from './time/instantSchema.ts';

const probability = z.number().min(0).max(1);

/**
 * One episode of an alert. `probability` is that of the condition being real when the alert was raised; `history`
 * begins with the raising and has each later change of severity, or of the probability by 0.05 or more.
 */
export const alertSchema = z.object({
  unitId: idSchema,
  kind: z.enum(ALERT_KINDS),
  cause: z.enum([...new Set(Object.values(CAUSES).flat())]).nullable(),
  severity: z.enum(SEVERITIES),
  raisedAt: instantSchema,
  clearedAt: instantSchema.nullable(),
  probability,
  history: z.array(z.object({ at: instantSchema, severity: z.enum(SEVERITIES), probability })).min(1),
  summary: z.string().min(1),
  evidence: z.record(z.string(), z.unknown()),
});
