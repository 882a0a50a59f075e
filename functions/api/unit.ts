import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Head } from '../../lib/live/head.ts';
import { outlook } from '../../lib/unit/outlook.ts';
import { forecastSchema } from '../../shared/forecasts.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { alertView, viewOf } from './alertView.ts';
import { type Api, json, text, unitUnknown } from './api.ts';
import { pageQuery, readPage } from './paging.ts';
import { recordSchema } from './recordSchema.ts';
import { unitParams } from './unitParams.ts';
import { viewOfVisit, visitView } from './visitView.ts';

const unitView = z
  .object({
    record: recordSchema,
    lastReported: z.iso.date().nullable().describe('The last local day that was reported'),
    knownUntil: instantSchema.nullable().describe('When the latest report of it came'),
    forecast: forecastSchema.meta({ id: 'Forecast' }).nullable(),
    alerts: z.array(alertView).describe('Those that are open'),
    visits: z.array(visitView).describe('Those that are planned'),
  })
  .meta({ id: 'Unit' });

export function unitRoutes({ app, ports, access }: Api): void {
  const { store } = ports;

  const one = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}',
    summary: 'A unit: its record, what is expected of it, and what is open about it',
    ...access.company,
    request: { params: unitParams },
    responses: { 200: json(unitView, 'The unit') },
  });
  app.openapi(one, async (c) => {
    const { companyId } = c.var.caller;
    const ref = { companyId, unitId: c.req.valid('param').unitId };
    const [{ record, stored }, alerts, visits] = await Promise.all([
      store.unit(ref, { fresh: true }),
      store.alertsOf(ref),
      store.visits(ref),
    ]);
    if (!record) throw unitUnknown();
    const open = alerts.filter(({ alert }) => alert.clearedAt === null);
    return c.json(
      {
        record,
        ...standing(record, stored?.head),
        alerts: open.map((alert) => viewOf(alert, ports.now())),
        visits: visits.map(viewOfVisit),
      },
      200,
    );
  });

  const events = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/events',
    summary: 'Accepted events of a unit',
    description: 'Every copy, one a line, by event id. The page after is under Link, rel="next" (RFC 8288).',
    ...access.company,
    request: { params: unitParams, query: pageQuery },
    responses: {
      200: {
        ...text('application/x-ndjson', 'A page of events, as they can be sent again'),
        headers: z.object({ link: z.string().optional() }),
      },
    },
  });
  app.openapi(events, async (c) => {
    const { companyId } = c.var.caller;
    const asked = c.req.valid('query');
    const ref = { companyId, unitId: c.req.valid('param').unitId };
    const { record } = await store.unit(ref, { fresh: true });
    if (!record) throw unitUnknown();
    const { items, next } = await readPage(asked, (request) => store.facts(ref, request));
    if (next !== undefined) {
      const query = new URLSearchParams({ limit: String(asked.limit), cursor: next });
      c.header('link', `<${c.req.path}?${query}>; rel="next"`);
    }
    return c.body(items.map(({ line }) => `${line}\n`).join(''), 200, {
      'content-type': 'application/x-ndjson',
    });
  });
}

/** What the unit's head tells, in plain terms. */
function standing(record: UnitRecord, head: Head | undefined) {
  const lastReported = head?.state.lastReported ?? null;
  const knownUntil = head?.knownUntil ?? null;
  return {
    lastReported: lastReported === null ? null : formatLocalDate(lastReported),
    knownUntil: knownUntil === null ? null : formatInstant(knownUntil),
    forecast: head && lastReported !== null ? outlook(toUnit(record), head.state, lastReported) : null,
  };
}
