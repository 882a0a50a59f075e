import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { type Brief, briefSchema } from '../../lib/brief/briefSchema.ts';
import { htmlOf } from '../../lib/brief/html.ts';
import { PAPERS, paperFor } from '../../lib/brief/paper.ts';
import type { UnitRef, Visit } from '../../lib/store/store.ts';
import { idSchema } from '../../shared/ids.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { visitBrief } from '../visitBrief.ts';
import type { Member } from './access.ts';
import { PAGE_HEADERS } from './answerPage.ts';
import { type Api, json, knownUnit, text } from './api.ts';
import { Problem } from './problems.ts';
import { unitParams } from './unitParams.ts';

const briefView = briefSchema.meta({ id: 'Brief' });
const briefQuery = z.object({
  visitId: idSchema.optional().describe('The visit that it is for; by default the next that is planned'),
});
const pdfQuery = briefQuery.extend({
  paper: z
    .enum(PAPERS)
    .optional()
    .describe('By default letter where the locale is of the US or Canada, else a4'),
});

/** What a technician is told before a visit, as data, as a page and as a sheet of paper. */
export function briefRoutes({ app, ports, access }: Api): void {
  const briefFor = async (caller: Member, unitId: string, visitId: string | undefined): Promise<Brief> => {
    const { ref, record } = await knownUnit(ports, caller, unitId);
    return visitBrief(ports, { ref, record, visit: await visitOf(ref, record, visitId) });
  };

  const visitOf = async (
    ref: UnitRef,
    record: UnitRecord,
    visitId: string | undefined,
  ): Promise<Visit | null> => {
    const planned = [...(await ports.store.visits(ref))].sort((a, b) => (a.date < b.date ? -1 : 1));
    const today = formatLocalDate(toUnit(record).zone.dateAt(ports.now()));
    if (visitId === undefined) return planned.find(({ date }) => date >= today) ?? null;
    const visit = planned.find((each) => each.visitId === visitId);
    if (!visit) {
      throw new Problem('visit-unknown', 'Look it up among the visits of the unit. It may be off already.');
    }
    return visit;
  };

  const data = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/brief',
    summary: 'What to know before a visit to a unit',
    ...access.company,
    request: { params: unitParams, query: briefQuery },
    responses: { 200: json(briefView, 'The brief') },
  });
  app.openapi(data, async (c) => {
    const brief = await briefFor(c.var.caller, c.req.valid('param').unitId, c.req.valid('query').visitId);
    return c.json(brief, 200);
  });

  const page = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/brief.html',
    summary: 'The same as a page that can be kept and printed',
    ...access.company,
    request: { params: unitParams, query: briefQuery },
    responses: { 200: text('text/html', 'A page of its own, in the units of who asks') },
  });
  app.openapi(page, async (c) => {
    const { caller } = c.var;
    const brief = await briefFor(caller, c.req.valid('param').unitId, c.req.valid('query').visitId);
    return c.html(htmlOf(brief, caller.person?.units ?? 'us'), 200, PAGE_HEADERS);
  });

  const sheet = createRoute({
    method: 'get',
    path: '/v1/units/{unitId}/brief.pdf',
    summary: 'The same as a PDF of one page',
    ...access.company,
    request: { params: unitParams, query: pdfQuery },
    responses: { 200: text('application/pdf', 'One page, in the units of who asks') },
  });
  app.openapi(sheet, async (c) => {
    const { person } = c.var.caller;
    const { unitId } = c.req.valid('param');
    const { visitId, paper = paperFor(person?.locale) } = c.req.valid('query');
    const brief = await briefFor(c.var.caller, unitId, visitId);
    // Only now: with its fonts it is as much as all the rest.
    const { pdfOf } = await import('../../lib/brief/pdf/pdf.ts');
    const pdf = await pdfOf(brief, { system: person?.units ?? 'us', paper });
    return c.body(new Uint8Array(pdf), 200, {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="brief-${unitId}.pdf"`,
      'cache-control': 'no-store',
    });
  });
}
