import { createRoute } from '@hono/zod-openapi';
import * as z from 'zod';
import { credentialSchema } from '../../shared/credential.ts';
import { ThingNameError } from '../../shared/thingName.ts';
import type { Credentials } from '../meters/credentials.ts';
import { type Api, json, knownUnit } from './api.ts';
import { Problem } from './problems.ts';
import { unitParams } from './unitParams.ts';

const schema = credentialSchema.meta({ id: 'Credential' });
const onlyIfNone = z.object({
  'if-none-match': z
    .literal('*')
    .optional()
    .describe('Makes one only where there is none, and leaves a meter that works alone'),
});

/** What a meter signs in with: made, made anew and revoked by the company's owner. */
export function credentialRoutes({ app, ports, access }: Api, credentials: Credentials): void {
  const make = createRoute({
    method: 'post',
    path: '/v1/units/{unitId}/credential',
    summary: 'Make the credential of a unit’s meter',
    description:
      'A password puts the one before out of use at once. A code to claim a certificate with puts the code before out of use at once, and the certificate before when the new one is claimed.',
    ...access.owner,
    request: { params: unitParams, headers: onlyIfNone },
    responses: { 201: json(schema, 'The credential') },
  });
  app.openapi(make, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    const isOnlyIfNone = c.req.valid('header')['if-none-match'] === '*';
    const credential = await named(async () => {
      if (isOnlyIfNone && (await credentials.has(ref))) throw thereIsOne();
      return credentials.issue(ref);
    });
    return c.json(credential, 201);
  });

  const revoke = createRoute({
    method: 'delete',
    path: '/v1/units/{unitId}/credential',
    summary: 'Revoke the credential of a unit’s meter',
    description: 'A meter that is connected is cut off within a few minutes.',
    ...access.owner,
    request: { params: unitParams },
    responses: { 204: { description: 'It is valid no longer' } },
  });
  app.openapi(revoke, async (c) => {
    const { ref } = await knownUnit(ports, c.var.caller, c.req.valid('param').unitId);
    await named(() => credentials.revoke(ref));
    return c.body(null, 204);
  });
}

/** Does something for a meter, which its broker must be able to name. */
async function named<Result>(work: () => Promise<Result>): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof ThingNameError) throw new Problem('unit-id-too-long', error.advice);
    throw error;
  }
}

function thereIsOne(): Problem {
  return new Problem(
    'credential-exists',
    'Ask without If-None-Match if its meter is to have another in place of it.',
  );
}
