import { createRoute } from '@hono/zod-openapi';
import { streamSSE } from 'hono/streaming';
import * as z from 'zod';
import { type Correction, correctionOf } from '../../lib/advice/region/correction.ts';
import { DOSE_RANGE, goTogether, type Imagined } from '../../lib/advice/region/imagined.ts';
import { type LastYear, lastYear } from '../../lib/advice/region/lastYear.ts';
import { type AskedUnit, regionsWhatIf } from '../../lib/advice/region/regionsWhatIf.ts';
import { unitWhatIf } from '../../lib/advice/region/unitWhatIf.ts';
import { type Wasting, wastingOf } from '../../lib/advice/region/wasting.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { chunks } from '../../shared/chunks.ts';
import { idSchema } from '../../shared/ids.ts';
import { listed } from '../../shared/listed.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { CompanyCache } from '../companyCache.ts';
import { knownMonths } from '../companySalt.ts';
import { recordPages } from '../everything.ts';
import type { Ports } from '../ports.ts';
import { type KnownPast, UnitPasts } from '../unitPasts.ts';
import { type Api, text } from './api.ts';
import { Problem } from './problems.ts';

import { whatIfSchema, whatIfView } from './whatIfView.ts';

/** So many units' pasts are read at a time, and told of together. */
const AT_ONCE = 8;

const querySchema = z.strictObject({
  region: idSchema.optional().describe('All regions, if it is left out'),
  dose: z.coerce
    .number()
    .min(DOSE_RANGE.least)
    .max(DOSE_RANGE.most)
    .optional()
    .describe('All controls at one dose, lb of salt a cubic foot of resin; not with `correct`'),
  correct: z.enum(['true']).optional().describe('Controls that are set wrong set right'),
  reserve: z.enum(['forecast']).optional().describe('Held back by forecast, not by the mean of seven days'),
  salt: z.enum(['KCl']).optional().describe('Potassium chloride in the place of sodium chloride'),
});

/** Names that are listed in an answer. */
const MOST_NAMED = 30;

/** What a region's year to come would be under other settings, by each unit's own past, and which visits bring most. */
export function whatIfRoutes({ app, ports, access, published }: Api): void {
  published.set('WhatIf', () => whatIfSchema);
  const cache = new CompanyCache(ports);
  const pasts = new UnitPasts(ports.store);
  /** Companies whose question is being worked on in this process: it takes a whole fleet's past. */
  const atWork = new Set<string>();
  const get = createRoute({
    method: 'get',
    path: '/v1/what-if',
    summary: 'A region’s year, were all controls set otherwise',
    description:
      'What is imagined may be combined, but for `dose` and `correct`; where nothing is, controls that are set wrong are set right. Server-sent events: `progress` with {"done", "of"}, at last `result` (see WhatIf).',
    ...access.company,
    request: { query: querySchema },
    responses: { 200: text('text/event-stream', 'It ends with the result') },
  });
  app.openapi(get, async (c) => {
    const { companyId } = c.var.caller;
    const query = c.req.valid('query');
    const imagined = imaginedBy(query);
    if (atWork.has(companyId)) {
      throw new Problem('at-work-already', 'Wait until it is answered, or stop it.', {
        headers: { 'retry-after': '10' },
      });
    }
    atWork.add(companyId);
    const all = await recordsOf(ports, companyId).catch((error: unknown) => {
      atWork.delete(companyId);
      throw error;
    });
    const records = all.filter(({ region }) => query.region === undefined || region === query.region);
    if (query.region !== undefined && records.length === 0) {
      atWork.delete(companyId);
      throw unknownRegion(all);
    }
    return streamSSE(c, async (stream) => {
      try {
        const rules = await cache.rules(companyId, { changed: false });
        const until = ports.now();
        const found: FoundOfUnit[] = [];
        const tell = (done: number) =>
          stream.writeSSE({ event: 'progress', data: JSON.stringify({ done, of: all.length }) });
        for (const some of chunks(records, AT_ONCE)) {
          if (stream.aborted) return;
          const known = await Promise.all(some.map((record) => pasts.of(record, rules, until)));
          found.push(...known.map((each) => findOf(each, imagined, rules.rules)));
          await tell(found.length);
        }
        const elsewhere: LastYear[] = [];
        let others = 0;
        // What is drawn of a dose is asked of the whole company, so that its regions add up to it.
        if (records.length < all.length) {
          for await (const page of knownMonths(ports.store, companyId, until)) {
            if (stream.aborted) return;
            const some = page.filter(({ unit }) => unit.region !== query.region);
            elsewhere.push(...some.flatMap(({ months }) => lastYear(months) ?? []));
            others += some.length;
            await tell(records.length + others);
          }
        }
        const result = whatIfView({
          imagined,
          answer: regionsWhatIf(
            found.map(({ asked }) => asked),
            rules.rules.salt,
            elsewhere,
          ),
          corrections: found.flatMap(({ correction }) => correction ?? []),
          wasting: found.flatMap(({ wasting }) => wasting),
          siteNames: new Map(records.map(({ unitId, site }) => [unitId, site?.name ?? null])),
        });
        await stream.writeSSE({ event: 'result', data: JSON.stringify(result) });
      } finally {
        atWork.delete(companyId);
      }
    });
  });
}

/** @throws Problem `question-contradicts` */
function imaginedBy({ dose, correct, reserve, salt }: z.infer<typeof querySchema>): Imagined {
  const isNothing = [dose, correct, reserve, salt].every((each) => each === undefined);
  const imagined: Imagined = {
    doseLbPerCubicFoot: dose,
    corrected: isNothing || correct !== undefined,
    reserve,
    salt,
  };
  if (goTogether(imagined)) return imagined;
  throw new Problem(
    'question-contradicts',
    'Ask either for one dose or for corrected settings: settings that go with one dose are correct already.',
    { errors: [{ detail: 'not together with dose', parameter: 'correct' }] },
  );
}

async function recordsOf({ store }: Pick<Ports, 'store'>, companyId: string): Promise<UnitRecord[]> {
  const records: UnitRecord[] = [];
  for await (const page of recordPages(store, companyId)) records.push(...page);
  return records;
}

/** Says which regions there are; only those of the company. */
function unknownRegion(records: readonly UnitRecord[]): Problem {
  const regions = [...new Set(records.map(({ region }) => region))].sort();
  return new Problem(
    'region-unknown',
    regions.length === 0
      ? 'No unit is registered yet.'
      : `Ask for one of these: ${listed(regions, MOST_NAMED)}.`,
  );
}

interface FoundOfUnit {
  readonly asked: AskedUnit;
  readonly correction: Correction | null;
  readonly wasting: readonly Wasting[];
}

function findOf({ unit, head, past, lastYear }: KnownPast, imagined: Imagined, rules: Rules): FoundOfUnit {
  const { region } = unit;
  const mismatch = rules['setting-mismatch'];
  const isReplayed = typeof past !== 'string';
  const wasting = head && lastYear ? wastingOf(unit, lastYear, head.open, isReplayed) : [];
  if (!head || !isReplayed) {
    const answer = isReplayed ? 'history-too-short' : past;
    return { asked: { region, lastYear, answer }, correction: null, wasting };
  }
  const { state, open } = head;
  return {
    asked: {
      region,
      lastYear,
      answer: unitWhatIf(unit, { state, replay: past }, imagined, mismatch),
    },
    correction: correctionOf(unit, { state, open, replay: past }, mismatch),
    wasting,
  };
}
