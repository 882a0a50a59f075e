import * as z from 'zod';

/** What the service says went wrong (RFC 9457). */
export const problemSchema = z.object({ type: z.string(), title: z.string(), detail: z.string() });

/** What became of records that were put. */
export const importedSchema = z.object({
  accepted: z.int(),
  unchanged: z.int(),
  problems: z.array(z.object({ unitId: z.string().optional(), message: z.string() })),
});
