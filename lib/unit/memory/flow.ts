import * as z from 'zod';
import type { Memory } from './memory.ts';

export const flowRulesSchema = z.strictObject({});

/** How long water flows without a pause. */
export type Flow = Record<string, never>;

export const flow: Memory<Flow> = {
  start: () => ({}),
  observe: (kept) => kept,
};
