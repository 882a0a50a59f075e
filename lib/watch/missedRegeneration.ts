import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const missedRegenerationRulesSchema = z.strictObject({});

export type MissedRegenerationRules = z.infer<typeof missedRegenerationRulesSchema>;

export const missedRegeneration: WatchedKind<MissedRegenerationRules> = {
  kind: 'missed-regeneration',
  consequenceOf: ['long-regeneration', 'no-flow'],
  look: () => null,
};
