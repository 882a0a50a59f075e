import * as z from 'zod';
import type { Memory } from './memory.ts';

export const saltUseRulesSchema = z.strictObject({});

/** How fast salt goes, and when the household refills. */
export type SaltUse = Record<string, never>;

export const saltUse: Memory<SaltUse> = {
  start: () => ({}),
  observe: (kept) => kept,
};
