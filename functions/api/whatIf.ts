import { createRoute } from '@hono/zod-openapi';
import { streamSSE } from 'hono/streaming';
import * as z from 'zod';
import { AdviceRefused } from '../../lib/advice/settings/refusal.ts';
import { DOSE_RANGE, type Imagined, together, whatIf, type Year } from '../../lib/advice/settings/whatIf.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { idSchema } from '../../shared/ids.ts';
import { toUnit, type UnitRecord } from '../../shared/registry.ts';
import { CompanyCache } from '../companyCache.ts';
import { recordPages } from '../everything.ts';
import type { Ports } from '../ports.ts';
import { standingFacts } from '../unitFacts.ts';
import { type Api, text } from './api.ts';
import { Problem } from './problems.ts';

const year = z.object({
  saltLb: z.number(),
  chlorideLb: z.number(),
  waterGallons: z.number().describe('Of the regenerations, US gallons'),
  hardDays: z.number(),
});

const resultSchema = z.object({
  units: z.int().describe('Those counted in'),
  leftOut: z.record(z.string(), z.int()).describe('By reason, those of which the past does not tell'),
  today: year,
  imagined: year,
});

/** What a region's year would have been under other settings, by each unit's own past. */
export function whatIfRoutes({ app, ports, access, published }: Api): void {
  published.set('WhatIf', () => resultSchema);
  const cache = new CompanyCache(ports);
  /** Companies whose question is being worked on in this process: it takes a whole fleet's past. */
  const atWork = new Set<string>();
  const get = createRoute({
    method: 'get',
    path: '/v1/what-if',
    summary: 'A region’s year, had all controls been set otherwise',
    description:
      'With `dose` all of one dose; without it, those that are set wrong set right. Server-sent events: `progress` with {"done", "of"}, at last `result` (see WhatIf).',
    ...access.company,
    request: {
      query: z.object({
        region: idSchema.optional().describe('All regions, if it is left out'),
        dose: z.coerce
          .number()
          .min(DOSE_RANGE.least)
          .max(DOSE_RANGE.most)
          .optional()
          .describe('lb of salt a cubic foot of resin'),
      }),
    },
    responses: { 200: text('text/event-stream', 'It ends with the result') },
  });
  app.openapi(get, (c) => {
    const { companyId } = c.var.caller;
    if (atWork.has(companyId)) {
      throw new Problem('at-work-already', 'Wait until it is answered, or stop it.', {
        headers: { 'retry-after': '10' },
      });
    }
    const { region, dose } = c.req.valid('query');
    const imagined: Imagined = dose === undefined ? { corrected: true } : { doseLbPerCubicFoot: dose };
    atWork.add(companyId);
    return streamSSE(c, async (stream) => {
      try {
        const { rules } = await cache.rules(companyId, { changed: false });
        const records = await recordsOf(ports, companyId, region);
        const years: { today: Year; imagined: Year }[] = [];
        const leftOut: Record<string, number> = {};
        for (const [index, record] of records.entries()) {
          if (stream.aborted) return;
          const told = await yearsOf(ports, record, imagined, rules);
          if (typeof told === 'string') leftOut[told] = (leftOut[told] ?? 0) + 1;
          else years.push(told);
          await stream.writeSSE({
            event: 'progress',
            data: JSON.stringify({ done: index + 1, of: records.length }),
          });
        }
        const result: z.infer<typeof resultSchema> = {
          units: years.length,
          leftOut,
          today: together(years.map(({ today }) => today)),
          imagined: together(years.map((each) => each.imagined)),
        };
        await stream.writeSSE({ event: 'result', data: JSON.stringify(result) });
      } finally {
        atWork.delete(companyId);
      }
    });
  });
}

async function recordsOf({ store }: Pick<Ports, 'store'>, companyId: string, region: string | undefined) {
  const records: UnitRecord[] = [];
  for await (const page of recordPages(store, companyId))
    records.push(...page.filter((record) => region === undefined || record.region === region));
  return records;
}

/** A unit's years, or why its past does not tell. */
async function yearsOf(
  { store }: Pick<Ports, 'store'>,
  record: UnitRecord,
  imagined: Imagined,
  rules: Rules,
) {
  const unit = toUnit(record);
  const { stored } = await store.unit(record, { fresh: false });
  if (!stored) return 'history-too-short';
  const { state, open } = stored.head;
  const facts = await standingFacts(store, record, unit);
  try {
    return whatIf(unit, { state, open, facts }, imagined, rules['setting-mismatch']);
  } catch (error) {
    if (error instanceof AdviceRefused) return error.reason;
    throw error;
  }
}
