import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { AlertAct } from '../../lib/store/store.ts';
import { instantSchema, parseInstant } from '../../shared/time/instant.ts';
import type { Member } from './access.ts';
import { alertParams, alertUnknown } from './alerts.ts';
import { alertView, viewOf } from './alertView.ts';
import { type Api, json, jsonBody, knownUnit } from './api.ts';
import { byWhom, byWhomSchema } from './byWhom.ts';
import { invalidMember } from './failures.ts';

const LONGEST_SHELVING_MS = 366 * 86_400_000;
const ADDRESS = '/v1/units/{unitId}/alerts/{alertId}';
const UNDONE = { 204: { description: 'Undone, or never done' } };

const acknowledgement = z.strictObject({ by: byWhomSchema.optional() });
const shelving = acknowledgement.extend({ until: instantSchema });

/** Acknowledging and shelving an alert, in the sense of ISA-18.2, and undoing either. */
export function alertActRoutes({ app, ports, access }: Api): void {
  /** Does something about an alert, or undoes it. */
  const act = async (caller: Member, { unitId, alertId }: z.infer<typeof alertParams>, what: AlertAct) => {
    const { ref } = await knownUnit(ports, caller, unitId);
    if (!(await ports.store.act(ref, alertId, what))) throw alertUnknown();
    const alert = await ports.store.alert(ref, alertId);
    if (!alert) throw alertUnknown();
    return viewOf({ ...alert, ...what }, ports.now());
  };

  const acknowledge = createRoute({
    method: 'put',
    path: `${ADDRESS}/acknowledgement`,
    summary: 'Acknowledge an alert',
    description: 'Somebody has seen it and sees to it.',
    ...access.company,
    request: {
      params: alertParams,
      body: { content: { 'application/json': { schema: acknowledgement, example: { by: 'Dana Reyes' } } } },
    },
    responses: { 200: json(alertView, 'The alert, acknowledged') },
  });
  app.openapi(acknowledge, async (c) => {
    const by = byWhom(c.var.caller, c.req.valid('json').by);
    const acknowledged = { by, at: ports.now() };
    return c.json(await act(c.var.caller, c.req.valid('param'), { acknowledged }), 200);
  });

  const unacknowledge = createRoute({
    method: 'delete',
    path: `${ADDRESS}/acknowledgement`,
    summary: 'Undo the acknowledgement of an alert',
    ...access.company,
    request: { params: alertParams },
    responses: UNDONE,
  });
  app.openapi(unacknowledge, async (c) => {
    await act(c.var.caller, c.req.valid('param'), { acknowledged: null });
    return c.body(null, 204);
  });

  const shelve = createRoute({
    method: 'put',
    path: `${ADDRESS}/shelving`,
    summary: 'Shelve an alert',
    description: 'Nobody wants to hear of it for a while, a year at most.',
    ...access.company,
    request: {
      params: alertParams,
      body: jsonBody(shelving, { until: '2026-04-01T08:00:00-04:00' }),
    },
    responses: { 200: json(alertView, 'The alert, shelved') },
  });
  app.openapi(shelve, async (c) => {
    const { until: text, by } = c.req.valid('json');
    const at = ports.now();
    const until = parseInstant(text) ?? at;
    if (until <= at) throw invalidMember(['until'], 'must lie ahead');
    if (until > at + LONGEST_SHELVING_MS) throw invalidMember(['until'], 'must lie at most a year ahead');
    const shelved = { by: byWhom(c.var.caller, by), at, until };
    return c.json(await act(c.var.caller, c.req.valid('param'), { shelved }), 200);
  });

  const unshelve = createRoute({
    method: 'delete',
    path: `${ADDRESS}/shelving`,
    summary: 'Take an alert off the shelf',
    ...access.company,
    request: { params: alertParams },
    responses: UNDONE,
  });
  app.openapi(unshelve, async (c) => {
    await act(c.var.caller, c.req.valid('param'), { shelved: null });
    return c.body(null, 204);
  });
}
