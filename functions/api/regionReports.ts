import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { PAPERS, paperFor } from '../../lib/brief/paper.ts';
import type { NothingToReport } from '../../lib/salt/report/choose.ts';
import { isMonth } from '../../lib/salt/report/months.ts';
import { idSchema } from '../../shared/ids.ts';
import { PAGE_HEADERS } from './answerPage.ts';
import { type Api, text } from './api.ts';
import { Problem } from './problems.ts';

const FORMS = ['html', 'pdf'] as const;
const FILE = /^(\d{4}-\d{2})\.(html|pdf)$/;
/** Names that are listed in an answer. */
const MOST_NAMED = 30;

const params = z.object({
  region: idSchema,
  file: z
    .string()
    .regex(FILE, 'is not YYYY-MM.html or YYYY-MM.pdf')
    .refine((file) => isMonth(file.slice(0, 7)), 'is not of a month that exists')
    .describe('The month and the form: 2026-03.html or 2026-03.pdf'),
});
const query = z.object({
  units: z.enum(['us', 'metric']).optional().describe('By default those that who asks likes; us for a key'),
  paper: z
    .enum(PAPERS)
    .optional()
    .describe('Of the PDF. By default letter where the locale is of the US or Canada, else a4'),
  shared: z
    .enum(['true', 'false'])
    .default('false')
    .describe('The form that may go to others: a month of few softeners is withheld'),
});

/** The report of a region's month, for whoever must stand for its figures. */
export function regionReportRoutes({ app, ports, access }: Api): void {
  const get = createRoute({
    method: 'get',
    path: '/v1/regions/{region}/reports/{file}',
    summary: 'The report of a region’s month, as a page or as a PDF',
    description: 'As all that is known now has it. It says until when facts were known.',
    ...access.company,
    request: { params, query },
    responses: {
      200: {
        description: 'A page of its own, or a PDF',
        content: { ...text('text/html', '').content, ...text('application/pdf', '').content },
      },
    },
  });
  app.openapi(get, async (c) => {
    const { companyId, person } = c.var.caller;
    const { region, file } = c.req.valid('param');
    const { units = person?.units ?? 'us', paper = paperFor(person?.locale), shared } = c.req.valid('query');
    const month = file.slice(0, 7);
    const form = FORMS.find((each) => file.endsWith(each)) ?? 'html';
    // Only now: nothing else needs its words and sources.
    const { regionReportOf } = await import('../regionReportOf.ts');
    const made = await regionReportOf(ports, {
      ...{ companyId, region, month, form, system: units, paper, isShared: shared === 'true' },
    });
    if ('why' in made) throw noReport(made);
    if (typeof made.body === 'string') return c.html(made.body, 200, PAGE_HEADERS);
    return c.body(new Uint8Array(made.body), 200, {
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="${region}-${month}.pdf"`,
      'cache-control': 'no-store',
    });
  });
}

/** Says what there is: nothing of another company, and not what was asked for. */
function noReport(missing: NothingToReport): Problem {
  if (missing.why === 'region-unknown') {
    const { regions } = missing;
    return new Problem(
      'region-unknown',
      regions.length === 0 ? 'No region has an account yet.' : `Ask for one of these: ${listed(regions)}.`,
    );
  }
  const why = missing.why === 'month-ahead' ? 'It is in the future. ' : '';
  return new Problem('month-unknown', `${why}There are accounts of these: ${listed(missing.months)}.`);
}

/** So many names as anybody reads. */
export function listed(names: readonly string[]): string {
  const more = names.length - MOST_NAMED;
  return more > 0 ? `${names.slice(-MOST_NAMED).join(', ')}, and ${more} more` : names.join(', ');
}
