import { ServerResponse } from 'node:http';
import type { Context } from 'hono';
import type { Ports } from '../ports.ts';
import { text } from './api.ts';
import { PRIVATE } from './private.ts';

/** The answer of a route that lists everything, a line each. */
export function lines(description: string) {
  const whole = 'If it fails on the way the connection breaks: then it is not whole.';
  return { 200: text('application/x-ndjson', `${description}. ${whole}`) };
}

/** Answers piece by piece, as fast as they are read. What fails before the first piece is still a problem. */
export async function ndjson(
  c: Context,
  pieces: AsyncGenerator<string>,
  log: Ports['log'],
): Promise<Response> {
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
  // Its headers are not touched any more: @hono/node-server would hold them back for the next pieces.
  return new Response(body, { headers: { ...PRIVATE, 'content-type': 'application/x-ndjson' } });
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
