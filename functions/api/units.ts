import { createRoute } from '@hono/zod-openapi';
import { type Api, json } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';
import { recordSchema } from './recordSchema.ts';

export function unitsRoutes({ app, ports, access }: Api): void {
  const { store } = ports;

  const list = createRoute({
    method: 'get',
    path: '/v1/units',
    summary: 'Registry records of the company',
    ...access.company,
    request: { query: pageQuery },
    responses: { 200: json(pageOf(recordSchema), 'A page of records, by unit id') },
  });
  app.openapi(list, async (c) => {
    const { companyId } = c.var.caller;
    const page = await readPage(c.req.valid('query'), (request) => store.records(companyId, request));
    return c.json(
      shown(page, (record) => record),
      200,
    );
  });
}
