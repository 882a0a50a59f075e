import * as z from 'zod';
import type { ArchiveFiles } from '../lib/archive/files.ts';
import type { FigureGroup } from '../lib/salt/account/accountColumn.ts';
import type { AccountsFile } from '../lib/salt/account/accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from '../lib/salt/account/columns.ts';
import { reportPaths } from './reportPaths.ts';

const GROUPS = [...new Set(SALT_ACCOUNT_COLUMNS.map(({ group }) => group))] satisfies FigureGroup[];
const reason = z.enum(['month-open', 'few-units', 'one-unit', 'beside-another']);

const columns = Object.fromEntries(
  SALT_ACCOUNT_COLUMNS.map(({ name, type, always }) => {
    const cell = type === 'text' || type === 'timestamp' ? z.string() : z.number();
    return [name, always ? cell : cell.nullable()];
  }),
);
const { region: _, ...ofAllRegions } = columns;

/** A file of accounts with the columns and groups of today. */
const fileSchema: z.ZodType<AccountsFile> = z
  .object({
    asOf: z.int(),
    items: z.array(z.strictObject(columns)),
    totals: z.array(z.strictObject(ofAllRegions)),
    withheld: z.array(z.partialRecord(z.enum(GROUPS), reason)),
  })
  .refine(({ items, withheld }) => items.length === withheld.length);

/**
 * The accounts of a company that the last report wrote; undefined where there is no report yet, and where it is one of a
 * version that had other columns, so that they are to be worked out now.
 */
export async function keptAccounts(
  files: Pick<ArchiveFiles, 'list' | 'open'>,
  companyId: string,
): Promise<AccountsFile | undefined> {
  const path = reportPaths.accounts(companyId);
  if (!(await files.list(path)).includes(path)) return undefined;
  const file = await files.open(path);
  const text = new TextDecoder().decode(await file.slice(0));
  return fileSchema.safeParse(JSON.parse(text)).data;
}
