import { createRoute } from '@hono/zod-openapi';
import { companySalt } from '../companySalt.ts';
import { type Api, text } from './api.ts';

export function saltRoutes({ app, ports, access }: Api): void {
  const salt = createRoute({
    method: 'get',
    path: '/v1/salt.csv',
    summary: 'Salt accounts of the company by region and month, until now',
    ...access.company,
    responses: {
      200: text('text/csv', 'RFC 4180, with a header'),
    },
  });
  app.openapi(salt, async (c) => {
    const csv = await companySalt(ports.store, c.var.caller.companyId, ports.now());
    return c.body(csv, 200, { 'content-type': 'text/csv; charset=utf-8; header=present' });
  });
}
