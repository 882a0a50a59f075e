import { createRoute } from '@hono/zod-openapi';
import { factPages, recordPages } from '../everything.ts';
import type { Api } from './api.ts';
import { lines, ndjson } from './backupLines.ts';

/** What a company cannot get again elsewhere: its registry and its accepted events; ./backupRest.ts has what is beside them. */
export function backupRoutes({ app, ports: { store, log }, access }: Api): void {
  const units = createRoute({
    method: 'get',
    path: '/v1/backup/units.ndjson',
    summary: 'All registry records of the company',
    description: 'PUT /v1/units takes them back, a megabyte at a time.',
    ...access.owner,
    responses: lines('A record a line'),
  });
  app.openapi(units, (c) => ndjson(c, recordLines(c.var.caller.companyId), log));

  const events = createRoute({
    method: 'get',
    path: '/v1/backup/events.ndjson',
    summary: 'All accepted events of the company, every copy of them',
    description: 'POST /v1/events takes them back, a megabyte at a time, once the units are there.',
    ...access.owner,
    responses: lines('An event a line'),
  });
  app.openapi(events, (c) => ndjson(c, eventLines(c.var.caller.companyId), log));

  async function* recordLines(companyId: string): AsyncGenerator<string> {
    for await (const records of recordPages(store, companyId)) {
      yield records.map((record) => `${JSON.stringify(record)}\n`).join('');
    }
  }

  async function* eventLines(companyId: string): AsyncGenerator<string> {
    for await (const records of recordPages(store, companyId)) {
      for (const record of records) {
        for await (const facts of factPages(store, record)) {
          yield facts.map(({ line }) => `${line}\n`).join('');
        }
      }
    }
  }
}
