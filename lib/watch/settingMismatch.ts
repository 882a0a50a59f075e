import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const settingMismatchRulesSchema = z.strictObject({});

export type SettingMismatchRules = z.infer<typeof settingMismatchRulesSchema>;

export const settingMismatch: WatchedKind<SettingMismatchRules> = {
  kind: 'setting-mismatch',
  consequenceOf: [],
  look: () => null,
};
