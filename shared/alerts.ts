import * as z from 'zod';
import { idSchema } from './ids.ts';
import { keysOf } from './records.ts';
import { instantSchema } from './time/instantSchema.ts';

/** The causes that an alert of each kind may name; a kind without any names none. */
export const CAUSES = {
  'no-flow': ['meter-stalled'],
  'low-registration': ['meter-obstructed'],
  'no-salt-draw': ['tank-empty', 'salt-bridged', 'brine-not-drawn'],
  overrun: ['regeneration-missed', 'capacity-setting', 'no-salt-draw', 'reserve-short', 'meter-fault'],
  'missed-regeneration': ['not-in-service', 'drive-failed'],
  'early-regeneration': ['capacity-setting', 'repeated', 'manual'],
  'setting-mismatch': [
    'capacity-too-high',
    'capacity-too-low',
    'hardness-too-low',
    'hardness-too-high',
    'out-of-range',
  ],
  'clock-off': ['twelve-hours', 'drift'],
  'long-regeneration': ['drive-failed'],
  'continuous-flow': ['leak'],
  'salt-low': [],
  'silent-unit': [],
} as const;

export type AlertKind = keyof typeof CAUSES;
export type AlertCause = (typeof CAUSES)[AlertKind][number];

export const ALERT_KINDS: readonly AlertKind[] = keysOf(CAUSES);

/** How soon somebody must act, from the least to the most. */
export const SEVERITIES = ['routine', 'soon', 'urgent'] as const;

export type Severity = (typeof SEVERITIES)[number];

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

export type Alert = z.infer<typeof alertSchema>;
