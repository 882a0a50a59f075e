import { randomUUID } from 'node:crypto';
import * as z from 'zod';
import type { UnitRef } from '../../lib/store/store.ts';
import type { EventData, EventType } from '../../shared/events.ts';
import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import type { Ports } from '../ports.ts';
import { received } from '../send.ts';
import { Problem } from './problems.ts';

/** What is answered when somebody's word has become an event. */
export const statedSchema = z.object({ id: z.string().describe('The id of the event') });

/**
 * Makes an event of what somebody says about a unit, and sends it the way of every event.
 *
 * @param options.id that somebody has given it, so that saying the same again says nothing more
 */
export async function state<Type extends EventType>(
  { now, queues }: Pick<Ports, 'now' | 'queues'>,
  { companyId, unitId }: UnitRef,
  type: Type,
  data: EventData<Type>,
  { time, id: given }: { time?: string | undefined; id?: string | undefined } = {},
): Promise<z.infer<typeof statedSchema>> {
  const receivedAt = now();
  const id = given ?? randomUUID();
  const source = `/companies/${companyId}/units/${unitId}`;
  const event = { specversion: '1.0', id, source, type, time: time ?? formatInstant(receivedAt), data };
  const line = JSON.stringify(event);
  if (Buffer.byteLength(line) > MAX_EVENT_BYTES) {
    throw new Problem('event-too-large', `Say it shorter: an event has at most ${MAX_EVENT_BYTES} bytes.`);
  }
  await queues.ingest.send([received({ companyId, unitId: null, receivedAt, line })]);
  return { id };
}
