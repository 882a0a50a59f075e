import * as z from 'zod';
import { saltRulesSchema } from '../salt/account/saltRules.ts';
import { deliveryRulesSchema } from '../salt/deliveries/deliveryRules.ts';
import { foldRulesSchema } from '../unit/foldRules.ts';
import { clockOffRulesSchema } from './rules/clockOff.ts';
import { continuousFlowRulesSchema } from './rules/continuousFlow.ts';
import { earlyRegenerationRulesSchema } from './rules/earlyRegeneration.ts';
import { lifecycleRulesSchema } from './rules/lifecycle.ts';
import { longRegenerationRulesSchema } from './rules/longRegeneration.ts';
import { lowRegistrationRulesSchema } from './rules/lowRegistration.ts';
import { missedRegenerationRulesSchema } from './rules/missedRegeneration.ts';
import { noFlowRulesSchema } from './rules/noFlow.ts';
import { noSaltDrawRulesSchema } from './rules/noSaltDraw.ts';
import { overrunRulesSchema } from './rules/overrun.ts';
import { saltLowRulesSchema } from './rules/saltLow.ts';
import { settingMismatchRulesSchema } from './rules/settingMismatch.ts';
import { silentUnitRulesSchema } from './rules/silentUnit.ts';

/**
 * The numbers by which units are read and watched. A company may override any of them; each says why it is what it
 * is. Unknown names are refused, so that a misspelt one does not pass for an override.
 */
export const rulesSchema = z.strictObject({
  fold: foldRulesSchema().prefault({}),
  salt: saltRulesSchema().prefault({}),
  deliveries: deliveryRulesSchema().prefault({}),
  lifecycle: lifecycleRulesSchema().prefault({}),
  'silent-unit': silentUnitRulesSchema().prefault({}),
  'no-flow': noFlowRulesSchema().prefault({}),
  'low-registration': lowRegistrationRulesSchema().prefault({}),
  'continuous-flow': continuousFlowRulesSchema().prefault({}),
  'no-salt-draw': noSaltDrawRulesSchema().prefault({}),
  'salt-low': saltLowRulesSchema().prefault({}),
  'setting-mismatch': settingMismatchRulesSchema().prefault({}),
  'clock-off': clockOffRulesSchema().prefault({}),
  'long-regeneration': longRegenerationRulesSchema().prefault({}),
  'missed-regeneration': missedRegenerationRulesSchema().prefault({}),
  'early-regeneration': earlyRegenerationRulesSchema().prefault({}),
  overrun: overrunRulesSchema().prefault({}),
});

export type Rules = z.infer<typeof rulesSchema>;
