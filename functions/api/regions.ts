import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { idSchema } from '../../shared/ids.ts';
import { companySaltRows } from '../companySalt.ts';
import { type Api, json } from './api.ts';

const amount = z.number();
const share = z.number().min(0).max(1).nullable();

/** A region's month, by the columns of salt.csv. */
const regionMonthView = z
  .object({
    region: idSchema,
    month: z.string().describe('YYYY-MM'),
    units_reporting: z.int(),
    unit_days: z.int(),
    unit_days_missing: z.int(),
    regenerations: z.int(),
    water_treated_gal: amount,
    salt_used_lb: amount,
    salt_measured_share: share,
    salt_inferred_share: share,
    regeneration_water_gal: amount,
    grains_removed: amount,
    grains_per_lb: amount.nullable(),
    chloride_lb: amount,
  })
  .meta({ id: 'RegionMonth' });

export function regionRoutes({ app, ports, access }: Api): void {
  const list = createRoute({
    method: 'get',
    path: '/v1/regions',
    summary: 'Salt accounts of the company by region and month, until now',
    description: 'The rows of salt.csv. A ratio without anything to divide by is null.',
    ...access.company,
    responses: { 200: json(z.object({ items: z.array(regionMonthView) }), 'By region, then month') },
  });
  app.openapi(list, async (c) => {
    return c.json({ items: await companySaltRows(ports.store, c.var.caller.companyId, ports.now()) }, 200);
  });
}
