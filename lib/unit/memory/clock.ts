import * as z from 'zod';
import type { Memory } from './memory.ts';

export const clockRulesSchema = z.strictObject({});

/** At which hour regenerations begin, and what the clock of the control shows. */
export type Clock = Record<string, never>;

export const clock: Memory<Clock> = {
  start: () => ({}),
  observe: (kept) => kept,
};
