import * as z from 'zod';
import type { Memory } from './memory.ts';

export const durationRulesSchema = z.strictObject({});

/** How long the regenerations of a unit usually take. */
export type Duration = Record<string, never>;

export const duration: Memory<Duration> = {
  start: () => ({}),
  observe: (kept) => kept,
};
