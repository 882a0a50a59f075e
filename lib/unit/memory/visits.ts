import * as z from 'zod';
import type { Memory } from './memory.ts';

export const visitsRulesSchema = z.strictObject({});

/** What technicians have found. */
export type Visits = Record<string, never>;

export const visits: Memory<Visits> = {
  start: () => ({}),
  observe: (kept) => kept,
};
