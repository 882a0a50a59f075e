import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const earlyRegenerationRulesSchema = z.strictObject({});

export type EarlyRegenerationRules = z.infer<typeof earlyRegenerationRulesSchema>;

export const earlyRegeneration: WatchedKind<EarlyRegenerationRules> = {
  kind: 'early-regeneration',
  consequenceOf: ['setting-mismatch'],
  look: () => null,
};
