import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import type { OutOfService } from '../../lib/live/head.ts';
import { formatInstant, type Instant } from '../../shared/time/instant.ts';
import { instantSchema } from '../../shared/time/instantSchema.ts';
import { endAhead } from './alertActs.ts';
import { type Api, json, jsonBody, knownUnit, unitUnknown } from './api.ts';
import { byWhom, byWhomSchema } from './byWhom.ts';
import { state, statedSchema } from './state.ts';
import { unitParams } from './unitParams.ts';

const PATH = '/v1/units/{unitId}/out-of-service';
const STATED = { 202: json(statedSchema, 'It is kept, and will be taken in as an event of the unit') };

const removalSchema = z.strictObject({
  until: instantSchema.optional().describe('When it comes back by itself; left out: when somebody says so'),
  by: byWhomSchema.optional(),
});

const viewSchema = z
  .object({
    outOfService: z
      .object({ by: z.string(), at: instantSchema, until: instantSchema.nullable() })
      .nullable()
      .describe('Null while the unit is in service'),
  })
  .meta({ id: 'OutOfService' });

/** Taking a whole unit out of service, in the sense of ISA-18.2: while it is, nothing is raised of it. */
export function outOfServiceRoutes({ app, ports, access }: Api): void {
  const show = createRoute({
    method: 'get',
    path: PATH,
    summary: 'Whether a unit is out of service',
    ...access.company,
    request: { params: unitParams },
    responses: { 200: json(viewSchema, 'By whom, since when and until when') },
  });
  app.openapi(show, async (c) => {
    const ref = { companyId: c.var.caller.companyId, unitId: c.req.valid('param').unitId };
    const { record, stored } = await ports.store.unit(ref, { fresh: true });
    if (!record) throw unitUnknown();
    return c.json({ outOfService: viewOf(stored?.head.outOfService ?? null, ports.now()) }, 200);
  });

  const remove = createRoute({
    method: 'put',
    path: PATH,
    summary: 'Take a unit out of service',
    description:
      'For works, or a house that stands empty. What is open about it ends, and nothing is raised until it is back; then it is looked at again.',
    ...access.desk,
    request: {
      params: unitParams,
      body: jsonBody(removalSchema, { until: '2026-04-01T08:00:00-04:00', by: 'Dana Reyes' }),
    },
    responses: STATED,
  });
  app.openapi(remove, async (c) => {
    const { until, by: person } = c.req.valid('json');
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const end = until === undefined ? undefined : endAhead(until, ports.now());
    const by = byWhom(c.var.caller, person);
    const data = { act: 'remove-from-service' as const, by, ...(end && { until: formatInstant(end) }) };
    return c.json(await state(ports, ref, 'brinebell.alert-act.v1', data), 202);
  });

  const giveBack = createRoute({
    method: 'delete',
    path: PATH,
    summary: 'Return a unit to service',
    description: 'It is looked at again at once.',
    ...access.desk,
    request: { params: unitParams },
    responses: STATED,
  });
  app.openapi(giveBack, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const data = { act: 'return-to-service' as const, by: byWhom(c.var.caller, undefined) };
    return c.json(await state(ports, ref, 'brinebell.alert-act.v1', data), 202);
  });
}

function viewOf(outOfService: OutOfService | null, now: Instant): z.infer<typeof viewSchema>['outOfService'] {
  if (!outOfService) return null;
  const { by, at, until } = outOfService;
  if (until !== null && until <= now) return null;
  return { by, at: formatInstant(at), until: until === null ? null : formatInstant(until) };
}
