import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const clockOffRulesSchema = z.strictObject({});

export type ClockOffRules = z.infer<typeof clockOffRulesSchema>;

export const clockOff: WatchedKind<ClockOffRules> = {
  kind: 'clock-off',
  consequenceOf: [],
  look: () => null,
};
