import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { type Api, json } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';

const auditedView = z
  .object({
    by: z.string().describe('The person and role, or the name of the key'),
    at: instantSchema,
    what: z.string().describe('The method and address of what was asked for'),
    unitId: z.string().nullable(),
    detail: z.string().nullable().describe('What was said with it, cut where it is long'),
  })
  .meta({ id: 'Audited' });

export function auditRoutes({ app, ports, access }: Api): void {
  const list = createRoute({
    method: 'get',
    path: '/v1/audit',
    summary: 'What people of the company did, the latest first',
    ...access.company,
    request: { query: pageQuery },
    responses: { 200: json(pageOf(auditedView), 'A page of acts') },
  });
  app.openapi(list, async (c) => {
    const { companyId } = c.var.caller;
    const page = await readPage(c.req.valid('query'), (request) => ports.store.audited(companyId, request));
    return c.json(
      shown(page, ({ at, ...entry }) => ({ ...entry, at: formatInstant(at) })),
      200,
    );
  });
}
