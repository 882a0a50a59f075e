import * as z from 'zod';
import { ALERT_KINDS } from './alerts.ts';
import { QUARANTINE_REASONS } from './quarantine.ts';
import { recordOf } from './records.ts';
import { instantSchema } from './time/instantSchema.ts';

const count = z.int().min(0);

/**
 * What a replay did. Every event read is accepted, a duplicate or quarantined, and only one of them; blank lines are
 * not events.
 */
export const summarySchema = z.object({
  read: count,
  accepted: count,
  duplicate: count,
  quarantined: z.object({ total: count, ...recordOf(QUARANTINE_REASONS, () => count) }),
  /** Units of the registry that stand, and those of them that an accepted event came from. */
  units: count,
  unitsReporting: count,
  alerts: z.object({ total: count, ...recordOf(ALERT_KINDS, () => count) }),
  /** The instant at which the replay ended; null if there was none, for want of an accepted event. */
  until: instantSchema.nullable(),
  /** Whether events and registry were both read whole. */
  complete: z.boolean(),
  elapsedSeconds: z.number().min(0),
  eventsPerSecond: z.number().min(0),
  rules: z.record(z.string(), z.unknown()),
});

export type Summary = z.infer<typeof summarySchema>;
