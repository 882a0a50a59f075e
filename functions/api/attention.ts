import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Attention } from '../../lib/store/attention.ts';
import { SEVERITIES } from '../../shared/alerts.ts';
import { idSchema } from '../../shared/ids.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { alertView, handlingView } from './alertView.ts';
import { type Api, json } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';

const { kind, cause } = alertView.shape;

const attentionView = z
  .object({
    unitId: idSchema,
    siteId: idSchema,
    siteName: z.string().nullable(),
    region: idSchema,
    timeZone: z.string(),
    alertId: idSchema.describe('The alert that weighs most'),
    kind,
    cause,
    severity: z.enum(SEVERITIES),
    since: instantSchema,
    sentence: z.string(),
    probability: z.number().min(0).max(1),
    state: alertView.shape.state,
    acknowledged: alertView.shape.acknowledged,
    shelved: alertView.shape.shelved,
    otherAlerts: z.int().min(0).describe('How many more are open'),
    hardDaysSoFar: z.number(),
    hardDaysExpected: z.number().describe('Of the next 14 days, if nobody comes'),
    saltRunsOut: z.iso.date().nullable(),
    nextRegeneration: z.iso.date().nullable(),
    lastReported: z.iso.date().nullable(),
    weight: z.number().describe('Harm by probability'),
  })
  .meta({ id: 'Attention' });

/** The list that a dispatcher works through. */
export function attentionRoutes({ app, ports, access }: Api): void {
  const { store } = ports;
  const list = createRoute({
    method: 'get',
    path: '/v1/attention',
    summary: 'Units that need attention',
    description: 'One row a unit, the worst first, by harm and probability.',
    ...access.company,
    request: { query: pageQuery },
    responses: { 200: json(pageOf(attentionView), 'A page of units') },
  });
  app.openapi(list, async (c) => {
    const { companyId } = c.var.caller;
    const page = await readPage(c.req.valid('query'), (request) => store.attention(companyId, request));
    return c.json(
      shown(page, (row) => rowOf(row, ports.now())),
      200,
    );
  });
}

function rowOf({ handling, ...row }: Attention, now: Instant): z.infer<typeof attentionView> {
  return { ...row, ...handlingView(handling, false, now) };
}
