import * as z from 'zod';
import type { Memory } from './memory.ts';

export const meterShareRulesSchema = z.strictObject({});

/** How much of what flows the meter registers. */
export type MeterShare = Record<string, never>;

export const meterShare: Memory<MeterShare> = {
  start: () => ({}),
  observe: (kept) => kept,
};
