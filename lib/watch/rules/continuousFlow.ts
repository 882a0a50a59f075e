import * as z from 'zod';

const probability = () => z.number().min(0).max(1);

/** The numbers by which `continuous-flow` is told. Each default says why it is what it is. */
export const continuousFlowRulesSchema = () =>
  z.strictObject({
    routine: probability()
      .default(0.5)
      .describe('One whole day of flow: the household looks at its toilets and taps'),
    soon: probability()
      .default(0.85)
      .describe('The second whole day: nobody fills a pool for two, and a leak does harm each day'),
  });

export type ContinuousFlowRules = z.infer<ReturnType<typeof continuousFlowRulesSchema>>;
