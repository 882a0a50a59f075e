import { randomUUID } from 'node:crypto';
import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { dataSchemas } from '../../shared/events.ts';
import { idSchema } from '../../shared/ids.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { formatLocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { visitNotice } from '../send.ts';
import { type Api, json, jsonBody, knownUnit } from './api.ts';
import { byWhom, byWhomSchema } from './byWhom.ts';
import { Problem } from './problems.ts';
import { state, statedSchema } from './state.ts';
import { unitParams } from './unitParams.ts';
import { plannedSchema, viewOfVisit, visitView } from './visitView.ts';

const DAY_MS = 86_400_000;
const AHEAD_DAYS = 60;

const visitParams = unitParams.extend({ visitId: idSchema });
const planSchema = z.strictObject({ ...plannedSchema.shape, by: byWhomSchema.optional() });
const recordSchema = dataSchemas['brinebell.service-visit.v1'].extend({
  id: idSchema.optional().describe('Of the report: sent again under the same, it is the same report'),
  time: instantSchema.optional().describe('When it took place; now, if it is left out'),
  visitId: idSchema.optional().describe('The planned visit that this was, which is then off the plan'),
});

/** Visits: planned ones, and reports of what was found and done. */
export function visitRoutes({ app, ports, access }: Api): void {
  const { store } = ports;

  const list = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/visits',
    summary: 'Planned visits of a unit',
    ...access.company,
    request: { params: unitParams },
    responses: { 200: json(z.object({ items: z.array(visitView) }), 'Its visits, the next first') },
  });
  app.openapi(list, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const items = (await store.visits(ref)).map(viewOfVisit);
    return c.json({ items: items.sort((a, b) => (a.date < b.date ? -1 : 1)) }, 200);
  });

  const inRange = createRoute({
    method: 'get',
    path: '/v1/visits',
    summary: 'Planned visits of the company',
    description: `From yesterday until in ${AHEAD_DAYS} days, unless other days are named.`,
    ...access.company,
    request: { query: z.object({ from: z.iso.date().optional(), to: z.iso.date().optional() }) },
    responses: {
      200: json(
        z.object({ items: z.array(visitView.extend({ unitId: idSchema }).meta({ id: 'UnitVisit' })) }),
        'Those on the days from the first to the last, the earliest first',
      ),
    },
  });
  app.openapi(inRange, async (c) => {
    // Days of the sites, which are up to a day from ours.
    const today = Math.floor(ports.now() / DAY_MS);
    const asked = c.req.valid('query');
    const from = asked.from ?? formatLocalDate(Math.min(today - 1, parseLocalDate(asked.to ?? '') ?? today));
    const to = asked.to ?? formatLocalDate((parseLocalDate(from) ?? today) + 1 + AHEAD_DAYS);
    if (from > to) return c.json({ items: [] }, 200);
    const planned = await store.visitsOn(c.var.caller.companyId, from, to);
    return c.json({ items: planned.map(({ unitId, visit }) => ({ unitId, ...viewOfVisit(visit) })) }, 200);
  });

  const plan = createRoute({
    method: 'post',
    path: '/v1/units/{unitId}/visits',
    summary: 'Plan a visit',
    ...access.desk,
    request: {
      params: unitParams,
      body: jsonBody(planSchema, {
        technician: 'tech-4',
        date: '2026-03-20',
        reason: 'Meter seems to be stalled',
      }),
    },
    responses: { 201: json(visitView, 'The visit') },
  });
  app.openapi(plan, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const { by, ...planned } = c.req.valid('json');
    const visit = { ...planned, visitId: randomUUID(), by: byWhom(c.var.caller, by), at: ports.now() };
    await store.putVisit(ref, visit);
    await ports.queues.notify.send([visitNotice(ref, visit, 'planned')]);
    return c.json(viewOfVisit(visit), 201);
  });

  const drop = createRoute({
    method: 'delete',
    path: '/v1/units/{unitId}/visits/{visitId}',
    summary: 'Take a planned visit off',
    ...access.desk,
    request: { params: visitParams },
    responses: { 204: { description: 'It is off' } },
  });
  app.openapi(drop, async (c) => {
    const { unitId, visitId } = c.req.valid('param');
    const { ref } = await knownUnit(ports, c.var.caller, unitId);
    if (!(await store.dropVisit(ref, visitId))) {
      throw new Problem('visit-unknown', 'Look it up among the visits of the unit. It may be off already.');
    }
    return c.body(null, 204);
  });

  const record = createRoute({
    method: 'post',
    path: '/v1/units/{unitId}/visits/record',
    summary: 'Report a visit',
    description:
      'What a technician found and did, as an event of the unit. Findings that are codes of causes (such as meter-stalled), or nothing-found, count as evidence and towards how often each kind of alert is confirmed; other words are kept.',
    ...access.field,
    request: {
      params: unitParams,
      body: jsonBody(recordSchema, {
        technician: 'tech-4',
        findings: ['meter-stalled', 'scale in the turbine'],
        work: ['turbine replaced'],
      }),
    },
    responses: { 202: json(statedSchema, 'It is kept, and will be judged as an event') },
  });
  app.openapi(record, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const { time, visitId, id, ...data } = c.req.valid('json');
    const stated = await state(ports, ref, 'brinebell.service-visit.v1', data, { time, id });
    // Whoever sends a report again, or of a visit that was taken off meanwhile, finds none: that is no error.
    if (visitId !== undefined) await store.dropVisit(ref, visitId);
    return c.json(stated, 202);
  });
}
