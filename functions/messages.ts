import * as z from 'zod';
import { idSchema } from '../shared/ids.ts';

/** To `ingest`: one line as it was received, with who sent it and when. */
export const receivedSchema = z.object({
  companyId: idSchema,
  /** The meter that sent it; null for a key of the company, which may speak for all of its units. */
  unitId: idSchema.nullable(),
  receivedAt: z.int(),
  line: z.string(),
  /** Of a meter: whose topic it used, where that was not its own. */
  onTopicOf: z.string().optional(),
});

/** To `assess`: facts of a unit have been stored, under these keys; or it is noon at its site. */
export const touchedSchema = z.object({
  companyId: idSchema,
  unitId: idSchema,
  facts: z.array(z.object({ id: z.string(), key: z.string() })),
  /** A noon that has come at its site. */
  noon: z.int().optional(),
  /** Whether the registry or the rules have just changed, and what is remembered of them is old. */
  changed: z.boolean().optional(),
});

/** To `archive`: lines that have been stored, by unit, with what its record said of it then. */
export const storedSchema = z.object({
  companyId: idSchema,
  units: z.array(
    z.object({
      unitId: idSchema,
      region: idSchema,
      timeZone: z.string(),
      /** Each with the `recordedtime` that it was given. */
      lines: z.array(z.string()),
    }),
  ),
});

export type StoredMessage = z.infer<typeof storedSchema>;
export type ReceivedMessage = z.infer<typeof receivedSchema>;
export type TouchedMessage = z.infer<typeof touchedSchema>;
