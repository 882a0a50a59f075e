import * as z from 'zod';
import type { Memory } from './memory.ts';

export const cyclesRulesSchema = z.strictObject({});

/** How the last cycles of the bed ended. */
export type Cycles = Record<string, never>;

export const cycles: Memory<Cycles> = {
  start: () => ({}),
  observe: (kept) => kept,
};
