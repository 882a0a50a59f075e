import * as z from 'zod';
import { foldRulesSchema } from '../unit/foldRules.ts';
import { noFlowRulesSchema } from './noFlow.ts';
import { noSaltDrawRulesSchema } from './noSaltDraw.ts';
import { overrunRulesSchema } from './overrun.ts';

/**
 * The numbers by which units are read and watched. A company may override any of them; each says why it is what it
 * is. Unknown names are refused, so that a misspelt one does not pass for an override.
 */
export const rulesSchema = z.strictObject({
  fold: foldRulesSchema.prefault({}),
  'no-flow': noFlowRulesSchema.prefault({}),
  'no-salt-draw': noSaltDrawRulesSchema.prefault({}),
  overrun: overrunRulesSchema.prefault({}),
});

export type Rules = z.infer<typeof rulesSchema>;
