import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { accountsCsv } from '../../lib/salt/account/accountsCsv.ts';
import type { AccountCells } from '../../lib/salt/account/accountsFile.ts';
import { dictionaryCsv } from '../../lib/salt/account/dictionary.ts';
import { sharedCells } from '../../lib/salt/account/shared.ts';
import { idSchema } from '../../shared/ids.ts';
import { listed } from '../../shared/listed.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { monthSchema } from '../../shared/time/monthSchema.ts';
import { companyAccounts } from '../companyAccounts.ts';
import { keptAccounts } from '../keptAccounts.ts';
import { accountsView } from './accountsView.ts';
import { type Api, json, text } from './api.ts';
import { Problem } from './problems.ts';

const query = z.object({
  region: idSchema.optional().describe('Of this region alone'),
  month: monthSchema.optional().describe('Of this month alone, YYYY-MM'),
  shared: z
    .enum(['true', 'false'])
    .optional()
    .describe('true: as they may be shared, without figures of too few units'),
});

type Query = z.infer<typeof query>;

const AS_OF =
  'As the last nightly report has them, or worked out now before the first; as_of says which. What each column means: GET /v1/accounts/dictionary.csv.';
/** How many names a detail lists. */
const MOST_NAMED = 20;

/** The salt accounts of a company: what an analyst takes out of the system. */
export function accountRoutes(
  { app, ports, access }: Api,
  files: Pick<ArchiveFiles, 'list' | 'open'> | undefined,
): void {
  const asked = async (companyId: string, { region, month, shared }: Query) => {
    const kept = files && (await keptAccounts(files, companyId));
    const file = kept ?? (await companyAccounts(ports.store, companyId, ports.now())).file();
    const isShared = shared === 'true';
    const all = isShared ? sharedCells(file) : file.items;
    const ofRegion = narrowed(all, 'region', region);
    return {
      asOf: formatInstant(file.asOf),
      items: narrowed(ofRegion, 'month', month),
      // Beside what is shared they would tell what is withheld.
      ...(!isShared && {
        totals: file.totals.filter((cells) => month === undefined || cells.month === month),
      }),
      isShared,
    };
  };

  const list = createRoute({
    method: 'get',
    path: '/v1/accounts',
    summary:
      'Salt accounts of the company by region and month: measured, inferred and imputed, with intervals',
    description: `${AS_OF} Narrow it to a region or a month where it is too much for one answer.`,
    ...access.company,
    request: { query },
    responses: { 200: json(accountsView, 'By region, then month') },
  });
  app.openapi(list, async (c) => {
    const { isShared, ...told } = await asked(c.var.caller.companyId, c.req.valid('query'));
    return c.json(accountsView.parse({ shared: isShared, ...told }), 200);
  });

  const csv = createRoute({
    method: 'get',
    path: '/v1/accounts.csv',
    summary: 'The same as CSV',
    description: AS_OF,
    ...access.company,
    request: { query },
    responses: { 200: text('text/csv', 'RFC 4180, with a header') },
  });
  app.openapi(csv, async (c) => {
    const { items, isShared } = await asked(c.var.caller.companyId, c.req.valid('query'));
    return c.body(accountsCsv(items, { isShared }), 200, CSV);
  });

  const parquet = createRoute({
    method: 'get',
    path: '/v1/accounts.parquet',
    summary: 'The same as Apache Parquet',
    description: AS_OF,
    ...access.company,
    request: { query },
    responses: { 200: text('application/vnd.apache.parquet', 'Columns as those of the CSV, not rounded') },
  });
  app.openapi(parquet, async (c) => {
    const { items, isShared } = await asked(c.var.caller.companyId, c.req.valid('query'));
    // Only now: it takes a library that nothing else needs.
    const { accountsParquet } = await import('../../lib/salt/account/accountsParquet.ts');
    const content = new Uint8Array(accountsParquet(items, { isShared })).buffer;
    return c.body(content, 200, { 'content-type': 'application/vnd.apache.parquet' });
  });

  const dictionary = createRoute({
    method: 'get',
    path: '/v1/accounts/dictionary.csv',
    summary: 'What the columns of the accounts mean, and how they are worked out',
    ...access.company,
    responses: { 200: text('text/csv', 'RFC 4180, a row a column') },
  });
  app.openapi(dictionary, (c) => c.body(dictionaryCsv(), 200, CSV));
}

const CSV = { 'content-type': 'text/csv; charset=utf-8; header=present' };

/** The rows that have it; where there are none, says what there is. */
function narrowed(
  items: readonly AccountCells[],
  column: 'region' | 'month',
  wanted: string | undefined,
): readonly AccountCells[] {
  if (wanted === undefined) return items;
  const found = items.filter((cells) => cells[column] === wanted);
  if (found.length > 0) return found;
  const names = [...new Set(items.map((cells) => String(cells[column])))].sort();
  throw new Problem(
    'account-unknown',
    names.length === 0
      ? 'There are no accounts yet: they begin with the first flow day of a unit.'
      : `There is none of the ${column} ${wanted}. Ask for one of: ${listed(names, MOST_NAMED)}.`,
  );
}
