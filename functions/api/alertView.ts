import * as z from 'zod';
import type { Handling } from '../../lib/live/alertActs.ts';
import type { StoredAlert } from '../../lib/store/store.ts';
import { alertSchema } from '../../shared/alertSchema.ts';
import { ALERT_KINDS } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';

const act = z.object({
  by: z.string().describe('Whose key, and who it was as far as they said'),
  at: instantSchema,
});

const consequence = z.object({
  kind: z.enum(ALERT_KINDS),
  since: instantSchema,
  state: z.literal('suppressed'),
});

/** As much of an alert's evidence as its state hangs on. */
const evidenceSchema = z.object({
  endedBy: z.enum(['suppressed', 'out-of-service']).optional(),
  consequences: z.array(z.object({ kind: consequence.shape.kind, since: instantSchema })).default([]),
});

/**
 * An alert with what people did about it. Its states are those of the alarm state diagram of ISA-18.2-2016, by the names
 * of public summaries; there is no latched alert here. How it comes into each:
 *
 * | state | from | by | source |
 * | --- | --- | --- | --- |
 * | `unacknowledged` | normal | the condition | public summaries of ISA-18.2 |
 * | `acknowledged` | unacknowledged | somebody acknowledges it | the same |
 * | `returned` | unacknowledged | the condition is over | the same |
 * | `normal` | acknowledged | the condition is over | the same |
 * | `normal` | returned | somebody acknowledges it | from memory, unverified |
 * | `unacknowledged`, `acknowledged` | returned, normal | the condition comes back soon, as if it had never been over | a judgement: the standard leaves damping to the design |
 * | `shelved` | any | somebody shelves it; it goes on being judged, and comes back when the time is over | public summaries say from normal and unacknowledged; that it is judged on is of OPC UA Part 9, 4.8 |
 * | `suppressed` | unacknowledged, acknowledged | an open cause explains it | by design, of the same summaries |
 * | `out-of-service` | unacknowledged, acknowledged | somebody takes the unit out of service | the same |
 *
 * One that was suppressed, or ended with its unit's service, asks nothing more of anybody and stays so.
 */
export const alertView = alertSchema
  .extend({
    alertId: idSchema,
    state: z.enum([
      'unacknowledged',
      'acknowledged',
      'returned',
      'normal',
      'shelved',
      'suppressed',
      'out-of-service',
    ]),
    acknowledged: act.nullable(),
    shelved: act.extend({ until: instantSchema }).nullable(),
    consequences: z.array(consequence).describe('What it explains, and what therefore raised no alert'),
  })
  .meta({ id: 'Alert' });

export type AlertView = z.infer<typeof alertView>;

/** An alert as it travels; what was shelved until before `now` is no longer. */
export function viewOf({ alertId, alert, ...handling }: StoredAlert, now: Instant): AlertView {
  const { endedBy, consequences } = evidenceSchema.parse(alert.evidence);
  const handled = handlingView(handling, alert.clearedAt !== null, now);
  return {
    ...alert,
    alertId,
    ...handled,
    state: endedBy ?? handled.state,
    consequences: consequences.map((each) => ({ ...each, state: 'suppressed' as const })),
  };
}

/** How an alert has been handled, as it travels. */
export function handlingView(
  { acknowledged, shelved }: Handling,
  isOver: boolean,
  now: Instant,
): Pick<AlertView, 'state' | 'acknowledged' | 'shelved'> {
  const stillShelved = shelved && shelved.until > now ? shelved : null;
  return {
    state: stateOf(isOver, acknowledged !== null, stillShelved !== null),
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
