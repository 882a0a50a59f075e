import * as z from 'zod';
import type { Visit } from '../../lib/store/store.ts';
import { idSchema } from '../../shared/ids.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';

/** What is said when a visit is planned. */
export const plannedSchema = z.object({
  technician: idSchema,
  date: z.iso.date('is not a date that exists (YYYY-MM-DD)').describe('Of the site'),
  reason: z.string().trim().min(1).max(2000),
});

/** A visit that is planned, and who planned it. */
export const visitView = plannedSchema
  .extend({ visitId: idSchema, by: z.string(), at: instantSchema })
  .meta({ id: 'Visit' });

/** A visit as it travels. */
export function viewOfVisit(visit: Visit): z.infer<typeof visitView> {
  return { ...visit, at: formatInstant(visit.at) };
}
