import { createRoute } from '@hono/zod-openapi';
import { type Api, type PlainSchema, plainJson, text } from './api.ts';

/** Whether all is well; beside it, whatever tells how. */
export interface Health {
  readonly ok: boolean;
}

/** What is counted, in the OpenMetrics text format. */
export interface Metrics {
  readonly contentType: string;
  readonly text: string;
}

const HEALTH = {
  type: 'object',
  properties: { ok: { type: 'boolean' } },
  required: ['ok'],
  additionalProperties: {},
} satisfies PlainSchema;

/** What whoever watches over the service asks; they have no key. */
export function healthRoutes(
  { app }: Api,
  options: { health(): Promise<Health>; metrics?: (() => Promise<Metrics>) | undefined },
): void {
  const health = createRoute({
    method: 'get',
    path: '/health',
    summary: 'Whether the service is well',
    responses: { 200: plainJson(HEALTH, 'It is'), 503: plainJson(HEALTH, 'It is not') },
  });
  app.openapi(health, async (c) => {
    const found = await options.health().catch((): Health => ({ ok: false }));
    return c.json({ ...found }, found.ok ? 200 : 503);
  });

  const { metrics } = options;
  if (!metrics) return;
  const scrape = createRoute({
    method: 'get',
    path: '/metrics',
    summary: 'What is counted, as OpenMetrics text',
    responses: {
      200: text('application/openmetrics-text', 'The metrics'),
    },
  });
  app.openapi(scrape, async (c) => {
    const scraped = await metrics();
    return c.body(scraped.text, 200, { 'content-type': scraped.contentType });
  });
}
