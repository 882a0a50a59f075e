import * as z from 'zod';
import type { WatchedKind } from './kind.ts';

export const continuousFlowRulesSchema = z.strictObject({});

export type ContinuousFlowRules = z.infer<typeof continuousFlowRulesSchema>;

export const continuousFlow: WatchedKind<ContinuousFlowRules> = {
  kind: 'continuous-flow',
  consequenceOf: [],
  look: () => null,
};
