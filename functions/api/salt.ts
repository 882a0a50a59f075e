import { createRoute } from '@hono/zod-openapi';
import { companySalt, companySaltRows } from '../companySalt.ts';
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

  const parquet = createRoute({
    method: 'get',
    path: '/v1/salt.parquet',
    summary: 'The same as Apache Parquet',
    ...access.company,
    responses: { 200: text('application/vnd.apache.parquet', 'Columns as those of the CSV, not rounded') },
  });
  app.openapi(parquet, async (c) => {
    const rows = await companySaltRows(ports.store, c.var.caller.companyId, ports.now());
    // Only now: it takes a library that nothing else needs.
    const { saltParquet } = await import('../../lib/salt/saltParquet.ts');
    return c.body(saltParquet(rows), 200, { 'content-type': 'application/vnd.apache.parquet' });
  });
}
