import type * as z from 'zod';
import type { rejectionSchema } from './rejectionSchema.ts';

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

/** One quarantined line, as its schema has it. */
export type Rejection = z.infer<typeof rejectionSchema>;

/** An event longer than this many bytes is quarantined unread. */
export const MAX_EVENT_BYTES = 65_536;
/** How much of a quarantined line is kept. */
export const MAX_RAW_CHARACTERS = 1024;
