import * as z from 'zod';
import type { StoredAlert } from '../../lib/store/store.ts';
import { alertSchema } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { formatInstant, type Instant, instantSchema } from '../../shared/time/instant.ts';

const act = z.object({
  by: z.string().describe('Whose key, and who it was as far as they said'),
  at: instantSchema,
});

/**
 * An alert with what people did about it. The states are those of ISA-18.2 (alarm state diagram; from memory,
 * unverified): `returned` is over but nobody has acknowledged it, `normal` is over and acknowledged.
 */
export const alertView = alertSchema
  .extend({
    alertId: idSchema,
    state: z.enum(['unacknowledged', 'acknowledged', 'returned', 'normal', 'shelved']),
    acknowledged: act.nullable(),
    shelved: act.extend({ until: instantSchema }).nullable(),
  })
  .meta({ id: 'Alert' });

export type AlertView = z.infer<typeof alertView>;

/** An alert as it travels; what was shelved until before `now` is no longer. */
export function viewOf({ alertId, alert, acknowledged, shelved }: StoredAlert, now: Instant): AlertView {
  const stillShelved = shelved && shelved.until > now ? shelved : null;
  return {
    ...alert,
    alertId,
    state: stateOf(alert.clearedAt !== null, acknowledged !== null, stillShelved !== null),
    acknowledged: acknowledged && { by: acknowledged.by, at: formatInstant(acknowledged.at) },
    shelved: stillShelved && {
      by: stillShelved.by,
      at: formatInstant(stillShelved.at),
      until: formatInstant(stillShelved.until),
    },
  };
}

function stateOf(over: boolean, acknowledged: boolean, shelved: boolean): AlertView['state'] {
  if (shelved) return 'shelved';
  if (over) return acknowledged ? 'normal' : 'returned';
  return acknowledged ? 'acknowledged' : 'unacknowledged';
}
