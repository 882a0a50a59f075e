import { createRoute } from '@hono/zod-openapi';
import { keysOf } from '../../shared/records.ts';
import { received } from '../send.ts';
import { type Api, plainJson } from './api.ts';
import { mediaTypeOf, textOf } from './body.ts';
import { type EventsType, eventLines, MAX_EVENTS } from './eventLines.ts';
import { eventExample } from './examples.ts';

const event = { $ref: '#/components/schemas/Event' };
const CONTENT = {
  'application/cloudevents+json': { schema: event, example: eventExample },
  'application/cloudevents-batch+json': { schema: { type: 'array', items: event }, example: [eventExample] },
  'application/x-ndjson': {
    schema: { type: 'string', description: 'One event a line' },
    example: `${JSON.stringify(eventExample)}\n`,
  },
} as const satisfies Record<EventsType, object>;
const TYPES = keysOf(CONTENT);

export function eventRoutes({ app, ports, access, published }: Api): void {
  // Not judged by its schema here: what does not fit is quarantined, counted and listed, and stops no neighbour.
  published.set('Event', async () => (await import('../../shared/events.ts')).eventSchema());

  const post = createRoute({
    method: 'post',
    path: '/v1/events',
    summary: 'Send events',
    description: `At most ${MAX_EVENTS} at a time. What cannot be accepted is listed under /v1/quarantine.`,
    ...access.sender,
    request: { body: { required: true, content: CONTENT } },
    responses: {
      202: plainJson(
        { type: 'object', properties: { received: { type: 'integer' } }, required: ['received'] },
        'They are kept, and will be judged one by one',
      ),
    },
  });
  app.openapi(post, async (c) => {
    const { companyId, unitId } = c.var.caller;
    const lines = eventLines(mediaTypeOf(c, TYPES), await textOf(c));
    const receivedAt = ports.now();
    const messages = lines.map((line) => received({ companyId, unitId, receivedAt, line }));
    if (messages.length > 0) await ports.queues.ingest.send(messages);
    return c.json({ received: messages.length }, 202);
  });
}
