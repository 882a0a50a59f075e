import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { EventData } from '../../shared/events.ts';
import { formatInstant, type Instant, parseInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import type { Member } from './access.ts';
import { alertParams, alertUnknown } from './alerts.ts';
import { type Api, json, jsonBody, knownUnit } from './api.ts';
import { byWhom, byWhomSchema } from './byWhom.ts';
import { invalidMember } from './failures.ts';
import { state, statedSchema } from './state.ts';

const LONGEST_SHELVING_MS = 366 * 86_400_000;
const ADDRESS = '/v1/units/{unitId}/alerts/{alertId}';
const TAKEN_IN = 'The alert shows it a moment later, when the event has been taken in.';
const STATED = { 202: json(statedSchema, 'It is kept, and will be taken in as an event of the unit') };

const acknowledgement = z.strictObject({ by: byWhomSchema.optional() });
const shelving = acknowledgement.extend({ until: instantSchema });

type ActData = Omit<EventData<'brinebell.alert-act.v1'>, 'alertId'>;

/**
 * Acknowledging and shelving an alert, in the sense of ISA-18.2, and undoing either. Each becomes an event of the unit,
 * so that whatever is made of its events anew knows of it too.
 */
export function alertActRoutes({ app, ports, access }: Api): void {
  const act = async (caller: Member, { unitId, alertId }: z.infer<typeof alertParams>, what: ActData) => {
    const { ref } = await knownUnit(ports, caller, unitId);
    if (!(await ports.store.alert(ref, alertId))) throw alertUnknown();
    return state(ports, ref, 'brinebell.alert-act.v1', { ...what, alertId });
  };

  const acknowledge = createRoute({
    method: 'put',
    path: `${ADDRESS}/acknowledgement`,
    summary: 'Acknowledge an alert',
    description: `Somebody has seen it and sees to it. ${TAKEN_IN}`,
    ...access.desk,
    request: {
      params: alertParams,
      body: { content: { 'application/json': { schema: acknowledgement, example: { by: 'Dana Reyes' } } } },
    },
    responses: STATED,
  });
  app.openapi(acknowledge, async (c) => {
    const by = byWhom(c.var.caller, c.req.valid('json').by);
    return c.json(await act(c.var.caller, c.req.valid('param'), { act: 'acknowledge', by }), 202);
  });

  const unacknowledge = createRoute({
    method: 'delete',
    path: `${ADDRESS}/acknowledgement`,
    summary: 'Undo the acknowledgement of an alert',
    description: TAKEN_IN,
    ...access.desk,
    request: { params: alertParams },
    responses: STATED,
  });
  app.openapi(unacknowledge, async (c) => {
    const by = byWhom(c.var.caller, undefined);
    return c.json(await act(c.var.caller, c.req.valid('param'), { act: 'unacknowledge', by }), 202);
  });

  const shelve = createRoute({
    method: 'put',
    path: `${ADDRESS}/shelving`,
    summary: 'Shelve an alert',
    description: `Nobody wants to hear of it for a while, a year at most; it goes on being judged. ${TAKEN_IN}`,
    ...access.desk,
    request: {
      params: alertParams,
      body: jsonBody(shelving, { until: '2026-04-01T08:00:00-04:00' }),
    },
    responses: STATED,
  });
  app.openapi(shelve, async (c) => {
    const { until: text, by: person } = c.req.valid('json');
    const now = ports.now();
    const end = endAhead(text, now);
    if (end > now + LONGEST_SHELVING_MS) throw invalidMember(['until'], 'must lie at most a year ahead');
    const by = byWhom(c.var.caller, person);
    const shelved: ActData = { act: 'shelve', by, until: formatInstant(end) };
    return c.json(await act(c.var.caller, c.req.valid('param'), shelved), 202);
  });

  const unshelve = createRoute({
    method: 'delete',
    path: `${ADDRESS}/shelving`,
    summary: 'Take an alert off the shelf',
    description: TAKEN_IN,
    ...access.desk,
    request: { params: alertParams },
    responses: STATED,
  });
  app.openapi(unshelve, async (c) => {
    const by = byWhom(c.var.caller, undefined);
    return c.json(await act(c.var.caller, c.req.valid('param'), { act: 'unshelve', by }), 202);
  });
}

/**
 * When something is to end.
 *
 * @throws Problem if that is not ahead
 */
export function endAhead(until: string, now: Instant): Instant {
  const end = parseInstant(until) ?? now;
  if (end <= now) throw invalidMember(['until'], 'must lie ahead');
  return end;
}
