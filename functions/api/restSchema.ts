import * as z from 'zod';
import { personSchema } from '../../lib/store/person.ts';
import { idSchema } from '../../shared/ids.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { companyView, givenRules } from './companyView.ts';
import { plannedSchema } from './visitView.ts';

/** What a company has beside its registry and its events, a line each. */
export const restSchema = z.discriminatedUnion('kind', [
  companyView.extend({ kind: z.literal('company'), rules: givenRules }),
  personSchema.extend({ kind: z.literal('person') }),
  plannedSchema.extend({
    kind: z.literal('visit'),
    unitId: idSchema,
    visitId: idSchema,
    by: z.string().max(300),
    at: instantSchema,
  }),
  z.object({
    kind: z.literal('credential'),
    unitId: idSchema,
    /** SHA-256 of the password of the unit's meter, in hex: of 32 random bytes, so that nobody guesses them from it. */
    secretHash: z.string().regex(/^[0-9a-f]{64}$/),
  }),
]);

export type Rest = z.infer<typeof restSchema>;

/** Kinds that are told and never taken back: nobody could trust a log that can be written to from outside. */
export const READ_ONLY: readonly string[] = ['act', 'quarantined'];

export const restoredSchema = z.object({
  accepted: z.int().describe('Lines that stand now'),
  readOnly: z.int().describe('Lines of acts and of quarantine, which are not taken back'),
  problems: z
    .array(z.object({ line: z.int(), message: z.string() }))
    .describe('Lines that were set aside; they count from 1'),
});

/** An invented backup. */
export const restExample = [
  { kind: 'company', companyId: 'fenwick-water', name: 'Fenwick Water', channels: [], rules: {} },
  { kind: 'person', personId: 'lee', mail: 'lee@fenwick.example', name: 'Lee Okafor', role: 'technician' },
]
  .map((each) => `${JSON.stringify(each)}\n`)
  .join('');
