import * as z from 'zod';
import type { AccountColumn } from '../../lib/salt/account/accountColumn.ts';
import { SALT_ACCOUNT_COLUMNS } from '../../lib/salt/account/columns.ts';
import { SUPPRESSED_COLUMN } from '../../lib/salt/account/shared.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';

/** The accounts as the API tells them; the fields are the columns, with their units in their names. */
export const accountsView = z.discriminatedUnion('shared', [
  z.object({
    asOf: instantSchema,
    shared: z.literal(false),
    items: z.array(rowView(false).meta({ id: 'SaltAccount' })),
    totals: z
      .array(rowView(false).omit({ region: true }).meta({ id: 'SaltTotal' }))
      .describe('All regions together, by month, whatever region is asked for: with bounds of their own'),
  }),
  z.object({
    asOf: instantSchema,
    shared: z.literal(true),
    items: z.array(rowView(true).meta({ id: 'SharedSaltAccount' })),
  }),
]);

function rowView(isShared: boolean) {
  const shared = { [SUPPRESSED_COLUMN.name]: z.string().nullable().describe(SUPPRESSED_COLUMN.about) };
  const fields = SALT_ACCOUNT_COLUMNS.map((column) => [column.name, fieldView(column, isShared)]);
  return z.object({ ...Object.fromEntries(fields), ...(isShared && shared) });
}

function fieldView({ type, about, how, always, group }: AccountColumn, isShared: boolean) {
  const plain = type === 'integer' ? z.int() : type === 'double' ? z.number() : z.string();
  const isAlways = always && (!isShared || group === 'key');
  return (isAlways ? plain : plain.nullable()).describe(`${about}: ${how}`);
}
