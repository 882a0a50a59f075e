import type * as z from 'zod';
import type { alertSchema } from './alertSchema.ts';
import { keysOf } from './records.ts';

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

/** One episode of an alert, as its schema has it. */
export type Alert = z.infer<typeof alertSchema>;
