import * as z from 'zod';
import { QUARANTINE_REASONS } from './quarantine.ts';

/** One quarantined line: `line` counts from 1, blank lines too; `raw` holds at most its first 1,024 characters. */
export const rejectionSchema = z.object({
  line: z.int().min(1),
  reason: z.enum(QUARANTINE_REASONS),
  detail: z.string(),
  raw: z.string().max(1024),
});
