import { Hono } from 'hono';
import { compress } from 'hono/compress';
import { consoleHeaders } from '../../console/csp.ts';
import type { Fetch } from './httpServer.ts';
import { staticFiles } from './staticFiles.ts';

/** What is the service's own, and never a page of the console. */
const OWN = /^\/(v1|answer|issuer|openapi\.json|health|metrics)(\/|$)/;

interface PagesOptions {
  /** The folder of the console's files; without it none is served. */
  readonly consoleDir?: string | undefined;
  /** A demonstration's provider. */
  readonly issuer?: Hono | undefined;
  /** Origins that the console must be let ask for tokens. */
  readonly connect: readonly string[];
  /** Where people are to open pages, if it matters: who comes by another name of this machine is sent there. */
  readonly home?: (() => string) | undefined;
}

/**
 * Serves the API, beside it the console's pages and a demonstration's provider, all of one origin. Answers are compressed
 * where the other side takes that, but for streams.
 */
export function pagesAnd(api: { fetch: Fetch }, { consoleDir, issuer, connect, home }: PagesOptions): Fetch {
  const files = consoleDir === undefined ? undefined : staticFiles(consoleDir, consoleHeaders({ connect }));
  const app = new Hono<{ Bindings: object }>();
  // What is taken in is answered in one piece: a few bytes, which are to arrive whole or not at all.
  const compressed = compress();
  app.use((c, next) => (c.req.method === 'GET' ? compressed(c, next) : next()));
  if (issuer) app.route('/issuer', issuer);
  app.all('*', async (c) => {
    const { pathname, search, origin } = new URL(c.req.url);
    if (OWN.test(pathname)) return api.fetch(c.req.raw, c.env);
    const there = home?.() ?? origin;
    const isPage = c.req.header('accept')?.includes('text/html') === true;
    if (isPage && origin !== there) return c.redirect(`${there}${pathname}${search}`, 307);
    const page = await files?.(c.req.raw);
    return page ?? api.fetch(c.req.raw, c.env);
  });
  return (request, env) => app.fetch(request, env);
}
