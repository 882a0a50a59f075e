import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Page, PageRequest, Quarantined } from '../../lib/store/store.ts';
import { MAX_RAW_CHARACTERS, QUARANTINE_REASONS, type QuarantineReason } from '../../shared/quarantine.ts';
import { rejectionSchema } from '../../shared/rejectionSchema.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { pages } from '../everything.ts';
import type { Ports } from '../ports.ts';
import { received } from '../send.ts';
import { type Api, json, jsonBody } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';

const quarantinedView = rejectionSchema
  .omit({ line: true })
  .extend({ sender: z.string().describe('The meter or the company that sent it'), receivedAt: instantSchema })
  .meta({ id: 'Quarantined' });

const retriedSchema = z.object({
  sent: z.int().describe('Messages that were sent again, each once'),
  tooLong: z
    .int()
    .describe('Messages of which only the beginning is kept: whoever sent them must send them again'),
});

/** How far a search for one reason goes before it answers with what it has. */
const PAGES_A_SEARCH = 10;

export function quarantineRoutes({ app, ports, access }: Api): void {
  const list = createRoute({
    method: 'get',
    path: '/v1/quarantine',
    summary: 'Messages that were set aside',
    description: 'The latest first. A page of one reason may be short, or empty, though `next` leads on.',
    ...access.company,
    request: { query: pageQuery.extend({ reason: z.enum(QUARANTINE_REASONS).optional() }) },
    responses: { 200: json(pageOf(quarantinedView), 'A page of messages') },
  });
  app.openapi(list, async (c) => {
    const { companyId } = c.var.caller;
    const { reason, ...asked } = c.req.valid('query');
    const page = await search(asked, reason, (request) =>
      readPage(request, (each) => ports.store.quarantined(companyId, each)),
    );
    return c.json(
      shown(page, ({ reason: why, detail, raw, sender, receivedAt }) => ({
        reason: why,
        detail,
        raw,
        sender,
        receivedAt: formatInstant(receivedAt),
      })),
      200,
    );
  });

  const retry = createRoute({
    method: 'post',
    path: '/v1/quarantine/retry',
    summary: 'Send messages again that were set aside for a reason',
    description:
      'After a mend, such as units added to the registry. What still cannot be accepted is set aside again.',
    ...access.desk,
    request: {
      body: jsonBody(z.strictObject({ reason: z.enum(QUARANTINE_REASONS) }), { reason: 'unknown-unit' }),
    },
    responses: { 202: json(retriedSchema, 'They are kept, and will be judged one by one') },
  });
  app.openapi(retry, async (c) => {
    const { reason } = c.req.valid('json');
    return c.json(await sendAgain(ports, c.var.caller.companyId, reason), 202);
  });
}

/** How many messages one request sends again at the most. */
const MOST_SENT_AGAIN = 1000;

/** Sends messages that were set aside the way of every event: those that are good by now are taken in. */
async function sendAgain({ store, queues, now }: Ports, companyId: string, reason: QuarantineReason) {
  const whole: Quarantined[] = [];
  let tooLong = 0;
  for await (const some of pages((page) => store.quarantined(companyId, page))) {
    const wanted = some.filter((each) => each.reason === reason);
    const complete = wanted.filter(({ raw }) => raw.length < MAX_RAW_CHARACTERS);
    whole.push(...complete);
    tooLong += wanted.length - complete.length;
    if (whole.length >= MOST_SENT_AGAIN) break;
  }
  const again = whole.slice(0, MOST_SENT_AGAIN);
  const lines = new Map(again.map(({ raw, sender }) => [`${sender} ${raw}`, { raw, sender }]));
  const receivedAt = now();
  // In the name of whoever sent it before: what a meter may not say, it may not say this way either.
  const messages = [...lines.values()].map(({ raw, sender }) =>
    received({ companyId, unitId: sender === companyId ? null : sender, receivedAt, line: raw }),
  );
  if (messages.length > 0) await queues.ingest.send(messages);
  await store.dropQuarantined(again);
  return { sent: messages.length, tooLong };
}

/** The next page that has any message of a reason. */
async function search(
  asked: PageRequest,
  reason: QuarantineReason | undefined,
  read: (page: PageRequest) => Promise<Page<Quarantined>>,
): Promise<Page<Quarantined>> {
  let page = await read(asked);
  if (reason === undefined) return page;
  for (let pages = 1; ; pages++) {
    const items = page.items.filter((each) => each.reason === reason);
    if (items.length > 0 || page.next === undefined || pages === PAGES_A_SEARCH) {
      return { items, next: page.next };
    }
    page = await read({ ...asked, cursor: page.next });
  }
}
