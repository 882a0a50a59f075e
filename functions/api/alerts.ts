import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';
import { alertView, viewOf } from './alertView.ts';
import { type Api, json, knownUnit } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';
import { Problem } from './problems.ts';
import { unitParams } from './unitParams.ts';

/** The alert in an address. */
export const alertParams = unitParams.extend({ alertId: idSchema });

export function alertRoutes({ app, ports, access }: Api): void {
  const list = createRoute({
    method: 'get',
    path: '/v1/alerts',
    summary: 'Alerts of the company',
    description: 'Open ones the most urgent first, over ones the latest first.',
    ...access.company,
    request: {
      query: pageQuery.extend({ state: z.enum(['open', 'over']).default('open') }),
    },
    responses: { 200: json(pageOf(alertView), 'A page of alerts') },
  });
  app.openapi(list, async (c) => {
    const { companyId } = c.var.caller;
    const { state, ...asked } = c.req.valid('query');
    const page = await readPage(asked, (request) => ports.store.alerts(companyId, state === 'open', request));
    return c.json(
      shown(page, (alert) => viewOf(alert, ports.now())),
      200,
    );
  });

  const ofUnit = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/alerts',
    summary: 'All alerts of a unit',
    ...access.company,
    request: { params: unitParams },
    responses: { 200: json(z.object({ items: z.array(alertView) }), 'Its alerts, the latest first') },
  });
  app.openapi(ofUnit, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const alerts = await ports.store.alertsOf(ref);
    const items = alerts.map((alert) => viewOf(alert, ports.now()));
    return c.json({ items: items.sort((a, b) => (a.raisedAt < b.raisedAt ? 1 : -1)) }, 200);
  });

  const one = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/alerts/{alertId}',
    summary: 'An alert',
    ...access.company,
    request: { params: alertParams },
    responses: { 200: json(alertView, 'The alert') },
  });
  app.openapi(one, async (c) => {
    const { unitId, alertId } = c.req.valid('param');
    const { ref } = await knownUnit(ports, c.var.caller, unitId);
    const alert = await ports.store.alert(ref, alertId);
    if (!alert) throw alertUnknown();
    return c.json(viewOf(alert, ports.now()), 200);
  });
}

export function alertUnknown(): Problem {
  return new Problem(
    'alert-unknown',
    'Look it up among the alerts of the unit. It may have been withdrawn: a late report showed that it never was one.',
  );
}
