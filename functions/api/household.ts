import { createRoute } from '@hono/zod-openapi';
import { dataSchemas } from '../../shared/events.ts';
import { type Api, json, jsonBody, knownUnit } from './api.ts';
import { state, statedSchema } from './state.ts';
import { unitParams } from './unitParams.ts';

const WORDS = [
  { path: 'away', type: 'brinebell.away.v1', summary: 'The household is away' },
  { path: 'at-home', type: 'brinebell.at-home.v1', summary: 'The household was there and drew water' },
] as const;

/** What a household says about when it is away and when it was there. */
export function householdRoutes({ app, ports, access }: Api): void {
  for (const { path, type, summary } of WORDS) {
    const route = createRoute({
      method: 'post',
      path: `/v1/units/{unitId}/${path}`,
      summary,
      ...access.field,
      request: {
        params: unitParams,
        body: jsonBody(dataSchemas[type], { from: '2026-03-14', to: '2026-03-28' }),
      },
      responses: { 202: json(statedSchema, 'It is kept, and will be judged as an event') },
    });
    app.openapi(route, async (c) => {
      const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
      return c.json(await state(ports, ref, type, c.req.valid('json')), 202);
    });
  }
}
