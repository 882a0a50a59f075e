import { createRoute } from '@hono/zod-openapi';
import { formatInstant } from '../../shared/time/instant.ts';
import { pages, recordPages } from '../everything.ts';
import { type Api, json } from './api.ts';
import { lines, ndjson } from './backupLines.ts';
import { mediaTypeOf, textOf } from './body.ts';
import { maskedCompany } from './companyView.ts';
import { linesOfRest, restore } from './restore.ts';
import { type Rest, restExample, restoredSchema } from './restSchema.ts';
import { viewOfVisit } from './visitView.ts';

const TYPE = 'application/x-ndjson';

/**
 * What a company has beside its registry and its events: settings, people, planned visits, the hashes of its meters'
 * passwords, and, to be read only, what was done and what was set aside.
 */
export function backupRestRoutes({ app, ports, access }: Api): void {
  const { store, log } = ports;

  const get = createRoute({
    method: 'get',
    path: '/v1/backup/rest.ndjson',
    summary: 'What the company has beside units and events: settings, people, visits, credentials, acts',
    description:
      'PUT takes it back. Keys of the company and secrets of webhooks are not in it. Keep it as you keep passwords.',
    ...access.owner,
    responses: lines('A line each, told apart by `kind`'),
  });
  app.openapi(get, (c) => ndjson(c, restLines(c.var.caller.companyId), log));

  const put = createRoute({
    method: 'put',
    path: '/v1/backup/rest.ndjson',
    summary: 'Take back what stands beside units and events, once the units are there',
    description:
      'Each line is judged on its own. Channels, acts and quarantine are not taken back: set the channels with PUT /v1/company when all events have been looked at, so that nobody is told of what is long over.',
    ...access.owner,
    request: {
      body: {
        required: true,
        content: {
          [TYPE]: {
            schema: { type: 'string' as const, description: 'A line each, as GET gives them' },
            example: restExample,
          },
        },
      },
    },
    responses: { 200: json(restoredSchema, 'What became of the lines') },
  });
  app.openapi(put, async (c) => {
    mediaTypeOf(c, [TYPE]);
    return c.json(await restore(ports, c.var.caller.companyId, linesOfRest(await textOf(c))), 200);
  });

  async function* restLines(companyId: string): AsyncGenerator<string> {
    for await (const some of rest(companyId)) yield some.map((each) => `${JSON.stringify(each)}\n`).join('');
  }

  async function* rest(companyId: string): AsyncGenerator<readonly { readonly kind: string }[]> {
    const company = await store.company(companyId);
    if (company) yield [{ kind: 'company', ...maskedCompany(company) }];
    yield (await store.people(companyId)).map((person) => ({ kind: 'person', ...person }));
    for await (const records of recordPages(store, companyId)) {
      for (const { unitId } of records) yield await ofUnit(companyId, unitId);
    }
    for await (const acts of pages((page) => store.audited(companyId, page))) {
      yield acts.map(({ at, ...act }) => ({ kind: 'act', ...act, at: formatInstant(at) }));
    }
    for await (const some of pages((page) => store.quarantined(companyId, page))) {
      yield some.map(({ receivedAt, companyId: _, ...each }) => ({
        ...{ kind: 'quarantined', ...each, receivedAt: formatInstant(receivedAt) },
      }));
    }
  }

  async function ofUnit(companyId: string, unitId: string): Promise<Rest[]> {
    const [visits, meter] = await Promise.all([
      store.visits({ companyId, unitId }),
      store.principal(`${companyId}/${unitId}`),
    ]);
    return [
      ...visits.map((visit): Rest => ({ kind: 'visit', unitId, ...viewOfVisit(visit) })),
      ...(meter ? [{ kind: 'credential' as const, unitId, secretHash: meter.secretHash }] : []),
    ];
  }
}
