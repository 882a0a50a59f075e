import * as z from 'zod';
import type { Memory } from './memory.ts';

export const reportingRulesSchema = z.strictObject({});

/** How often a unit reports, and when it last did. */
export type Reporting = Record<string, never>;

export const reporting: Memory<Reporting> = {
  start: () => ({}),
  observe: (kept) => kept,
};
