import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const saltLowRulesSchema = z.strictObject({});

export type SaltLowRules = z.infer<typeof saltLowRulesSchema>;

export const saltLow: WatchedKind<SaltLowRules> = {
  kind: 'salt-low',
  consequenceOf: ['no-salt-draw'],
  look: () => null,
};
