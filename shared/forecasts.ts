import * as z from 'zod';
import { idSchema } from './ids.ts';

const date = z.iso.date();
/** Dates by probability, null when over a year away. */
const dateQuantiles = z.object({ p10: date.nullable(), p50: date.nullable(), p90: date.nullable() });

/** What is expected of one unit after `asOf`, the last local day counted. Volumes in US gallons. */
export const forecastSchema = z.object({
  unitId: idSchema,
  asOf: date,
  nextDayUse: z.object({ p10: z.number(), p50: z.number(), p90: z.number(), mean: z.number() }),
  remaining: z.number(),
  reserve: z.number(),
  nextRegeneration: dateQuantiles,
  exhaustion: dateQuantiles,
  overrunProbability: z.number().min(0).max(1),
});

export type Forecast = z.infer<typeof forecastSchema>;
