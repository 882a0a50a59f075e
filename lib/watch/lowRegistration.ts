import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const lowRegistrationRulesSchema = z.strictObject({});

export type LowRegistrationRules = z.infer<typeof lowRegistrationRulesSchema>;

export const lowRegistration: WatchedKind<LowRegistrationRules> = {
  kind: 'low-registration',
  consequenceOf: ['no-flow'],
  look: () => null,
};
