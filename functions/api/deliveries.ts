import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';
import { CompanyCache } from '../companyCache.ts';
import { companyDeliveries } from '../companyDeliveries.ts';
import { type Api, json, text } from './api.ts';
import { deliveriesCsv } from './deliveriesCsv.ts';
import { deliveriesView, viewOfDeliveries } from './deliveriesView.ts';

const query = z.object({
  region: idSchema.optional().describe('All regions, if it is left out'),
  round: z
    .union([idSchema, z.literal('')])
    .optional()
    .describe('All rounds, if it is left out; empty for units on no round'),
});

/** Which houses need salt in the weeks to come, for whoever plans the rounds. */
export function deliveryRoutes({ app, ports, access }: Api): void {
  const cache = new CompanyCache(ports);
  const asked = async (companyId: string, { region, round }: z.infer<typeof query>) => {
    const { rules } = await cache.rules(companyId, { changed: false });
    const wanted = { region, round: round === '' ? null : round };
    const deliveries = await companyDeliveries(ports.store, companyId, rules, ports.now(), wanted);
    return { deliveries, bagLb: rules.deliveries.bagLb };
  };

  const list = createRoute({
    method: 'get',
    path: '/v1/deliveries',
    summary: 'Deliveries of salt in the next four weeks, by region and round',
    description:
      'From each unit’s forecast of when its salt runs out. Weeks are seven days each, from today at the earliest site on.',
    ...access.company,
    request: { query },
    responses: { 200: json(deliveriesView, 'Sums by round and week, and the units') },
  });
  app.openapi(list, async (c) => {
    const { deliveries, bagLb } = await asked(c.var.caller.companyId, c.req.valid('query'));
    return c.json(viewOfDeliveries(deliveries, bagLb), 200);
  });

  const csv = createRoute({
    method: 'get',
    path: '/v1/deliveries.csv',
    summary: 'The units of the same as a table',
    ...access.company,
    request: { query },
    responses: { 200: text('text/csv', 'RFC 4180, with a header') },
  });
  app.openapi(csv, async (c) => {
    const { deliveries, bagLb } = await asked(c.var.caller.companyId, c.req.valid('query'));
    const type = 'text/csv; charset=utf-8; header=present';
    return c.body(deliveriesCsv(deliveries, bagLb), 200, { 'content-type': type });
  });
}
