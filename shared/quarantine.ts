import * as z from 'zod';

/** Why an event cannot be accepted, in the order in which the first that applies is given. */
export const QUARANTINE_REASONS = [
  'too-large',
  'not-json',
  'not-an-event',
  'unknown-type',
  'unknown-unit',
  'wrong-company',
  'invalid-data',
  'in-the-future',
  'conflicting-duplicate',
] as const;

export type QuarantineReason = (typeof QUARANTINE_REASONS)[number];

/** One quarantined line: `line` counts from 1, blank lines too; `raw` holds at most its first 1,024 characters. */
export const rejectionSchema = z.object({
  line: z.int().min(1),
  reason: z.enum(QUARANTINE_REASONS),
  detail: z.string(),
  raw: z.string().max(1024),
});

export type Rejection = z.infer<typeof rejectionSchema>;

/** An event longer than this many bytes is quarantined unread. */
export const MAX_EVENT_BYTES = 65_536;
/** How much of a quarantined line is kept. */
export const MAX_RAW_CHARACTERS = 1024;
