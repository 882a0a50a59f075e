import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { hashOf, newSecret } from '../secrets.ts';
import { type Api, json, knownUnit, unitParams } from './api.ts';

const credentialSchema = z.object({
  username: z.string(),
  password: z.string().describe('Shown this once, and not kept'),
});

/** What a meter signs in with, over MQTT or here. */
export function credentialRoutes({ app, ports, access }: Api): void {
  const make = createRoute({
    method: 'post',
    path: '/v1/units/{unitId}/credential',
    summary: 'Make the credential of a unit’s meter',
    description: 'The one before, if there is one, is valid no longer.',
    ...access.owner,
    request: { params: unitParams },
    responses: { 201: json(credentialSchema, 'The credential') },
  });
  app.openapi(make, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const username = `${ref.companyId}/${ref.unitId}`;
    const password = newSecret();
    await ports.store.putPrincipal({ ...ref, name: username, secretHash: hashOf(password) });
    return c.json({ username, password }, 201);
  });

  const revoke = createRoute({
    method: 'delete',
    path: '/v1/units/{unitId}/credential',
    summary: 'Revoke the credential of a unit’s meter',
    ...access.owner,
    request: { params: unitParams },
    responses: { 204: { description: 'It is valid no longer' } },
  });
  app.openapi(revoke, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    await ports.store.dropPrincipal(`${ref.companyId}/${ref.unitId}`);
    return c.body(null, 204);
  });
}
