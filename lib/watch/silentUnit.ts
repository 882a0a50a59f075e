import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const silentUnitRulesSchema = z.strictObject({});

export type SilentUnitRules = z.infer<typeof silentUnitRulesSchema>;

export const silentUnit: WatchedKind<SilentUnitRules> = {
  kind: 'silent-unit',
  consequenceOf: [],
  byClock: true,
  look: () => null,
};
