import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const longRegenerationRulesSchema = z.strictObject({});

export type LongRegenerationRules = z.infer<typeof longRegenerationRulesSchema>;

export const longRegeneration: WatchedKind<LongRegenerationRules> = {
  kind: 'long-regeneration',
  consequenceOf: [],
  look: () => null,
};
