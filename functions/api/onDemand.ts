import type { OpenAPIHono } from '@hono/zod-openapi';
import { Hono } from 'hono';
import type { Ports } from '../ports.ts';
import type { Api } from './api.ts';
import { type ApiOptions, bareApp } from './bareApp.ts';

/** Routes that are all there is at some path. */
interface Alone {
  readonly path: RegExp;
  readonly load: (options: ApiOptions) => Promise<(api: Api) => void>;
}

/** What is asked for first, or by many, and must not wait until everything else is there too. */
const ALONE: readonly Alone[] = [
  { path: /^\/v1\/events$/, load: async () => (await import('./events.ts')).eventRoutes },
  {
    path: /^\/health$/,
    load: async (options) => {
      const { healthRoutes } = await import('./health.ts');
      return (api) => healthRoutes(api, options);
    },
  },
  {
    path: /^\/answer\//,
    load: async ({ answerSecret }) => {
      const { answerRoutes } = await import('./answer.ts');
      return (api) => answerRoutes(api, answerSecret);
    },
  },
  { path: /^\/v1\/attention$/, load: async () => (await import('./attention.ts')).attentionRoutes },
  { path: /^\/v1\/units\/[^/]+\/story$/, load: async () => (await import('./story.ts')).storyRoutes },
];

/**
 * The same as `apiApp`, for a process that is started for one request: what answers at a path is loaded when it is first
 * asked for there, and at most paths that is everything.
 */
export function apiOnDemand(ports: Ports, options: ApiOptions): Hono<{ Bindings: object }> {
  const loaded = new Map<Alone | undefined, Promise<OpenAPIHono>>();

  const make = async (alone: Alone | undefined) => {
    if (!alone) return (await import('./app.ts')).apiApp(ports, options);
    const routes = await alone.load(options);
    const api = bareApp(ports, options);
    routes(api);
    return api.app;
  };

  return new Hono<{ Bindings: object }>().all('*', async (c) => {
    const alone = ALONE.find(({ path }) => path.test(c.req.path));
    let app = loaded.get(alone);
    if (!app) {
      app = make(alone);
      loaded.set(alone, app);
    }
    return (await app).fetch(c.req.raw, c.env);
  });
}
