import { ServerResponse } from 'node:http';
import { createRoute } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { factPages, recordPages } from '../everything.ts';
import type { Ports } from '../ports.ts';
import { type Api, text } from './api.ts';

/** Everything that a company cannot get again elsewhere: its registry and its accepted events. */
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

function lines(description: string) {
  const whole = 'If it fails on the way the connection breaks: then it is not whole.';
  return { 200: text('application/x-ndjson', `${description}. ${whole}`) };
}

/** Answers piece by piece, as fast as they are read. What fails before the first piece is still a problem. */
async function ndjson(c: Context, pieces: AsyncGenerator<string>, log: Ports['log']): Promise<Response> {
  const first = await pieces.next();
  async function* all() {
    if (first.done) return;
    yield first.value;
    try {
      yield* pieces;
    } catch (error) {
      log.error('a backup broke off', { route: c.req.path, error: String(error) });
      if (!cut(c.env)) throw error;
    }
  }
  const body = ReadableStream.from(all()).pipeThrough(new TextEncoderStream());
  return new Response(body, { headers: { 'content-type': 'application/x-ndjson' } });
}

/**
 * Cuts the connection, where the server is node's. Left to itself, @hono/node-server (2.1.9) ends an answer that fails
 * on the way like one that is whole, with the words of the error as its last line.
 */
function cut(env: unknown): boolean {
  if (typeof env !== 'object' || env === null || !('outgoing' in env)) return false;
  if (!(env.outgoing instanceof ServerResponse)) return false;
  env.outgoing.destroy();
  return true;
}
