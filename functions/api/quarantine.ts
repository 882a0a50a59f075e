import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { Page, PageRequest, Quarantined } from '../../lib/store/store.ts';
import { QUARANTINE_REASONS, type QuarantineReason, rejectionSchema } from '../../shared/quarantine.ts';
import { formatInstant, instantSchema } from '../../shared/time/instant.ts';
import { type Api, json } from './api.ts';
import { pageOf, pageQuery, readPage, shown } from './paging.ts';

const quarantinedView = rejectionSchema
  .omit({ line: true })
  .extend({ sender: z.string().describe('The meter or the company that sent it'), receivedAt: instantSchema })
  .meta({ id: 'Quarantined' });

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
