import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { type Api, json } from './api.ts';

/** A message that was handed out time and again, and then parked. */
export interface DeadLetter {
  readonly id: string;
  readonly queue: string;
  readonly body: string;
  readonly receives: number;
  /** What was wrong the last time. */
  readonly reason: string;
  readonly parkedAt: Instant;
}

/** Where dead letters are looked up, those of one company. */
export interface DeadLetters {
  list(of: { companyId: string }): Promise<readonly DeadLetter[]>;
  /** Has them all tried again; returns how many. */
  sendAgain(of: { companyId: string }): Promise<number>;
}

const deadLetterView = z
  .object({
    id: z.string(),
    queue: z.string(),
    body: z.string(),
    receives: z.int(),
    reason: z.string().describe('What was wrong the last time'),
    parkedAt: instantSchema,
  })
  .meta({ id: 'DeadLetter' });

export function deadLetterRoutes({ app, access }: Api, letters: DeadLetters): void {
  const list = createRoute({
    method: 'get',
    path: '/v1/dead-letters',
    summary: 'Messages that could not be handled, however often it was tried',
    ...access.company,
    responses: { 200: json(z.object({ items: z.array(deadLetterView) }), 'All that are parked') },
  });
  app.openapi(list, async (c) => {
    const items = await letters.list({ companyId: c.var.caller.companyId });
    return c.json(
      {
        items: items.map(({ id, queue, body, receives, reason, parkedAt }) => ({
          ...{ id, queue, body, receives, reason },
          parkedAt: formatInstant(parkedAt),
        })),
      },
      200,
    );
  });

  const again = createRoute({
    method: 'post',
    path: '/v1/dead-letters/sendings',
    summary: 'Have all of them tried again, once what was wrong is mended',
    ...access.desk,
    responses: { 202: json(z.object({ sent: z.int() }), 'So many are tried again') },
  });
  app.openapi(again, async (c) => {
    const sent = await letters.sendAgain({ companyId: c.var.caller.companyId });
    return c.json({ sent }, 202);
  });
}
