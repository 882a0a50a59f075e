import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { exportJWK, generateKeyPair, SignJWT } from 'jose';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { ENVIRONMENT } from '../../../../infra/aws/environment.ts';
import { httpEvent, preTokenEvent } from '../../../support/lambda/events.ts';
import type { Lambda } from '../../../support/lambda/lambda.ts';
import { type Cloud, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';
const CLIENT = '1example23456789';

let cloud: Cloud;
let claims: Lambda;
let api: Lambda;
let issuer: string;
let close: () => void;
let keys: Awaited<ReturnType<typeof generateKeyPair>>;

beforeAll(async () => {
  keys = await generateKeyPair('RS256');
  const jwk = { ...(await exportJWK(keys.publicKey)), kid: 'k-1', alg: 'RS256', use: 'sig' };
  const server = createServer((request, response) => {
    const isKeys = request.url === '/us-east-2_ABC123/.well-known/jwks.json';
    response.writeHead(isKeys ? 200 : 404, { 'content-type': 'application/json' });
    response.end(isKeys ? JSON.stringify({ keys: [jwk] }) : '');
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  close = () => server.close();
  issuer = `http://127.0.0.1:${(server.address() as AddressInfo).port}/us-east-2_ABC123`;
  cloud = await startCloud('api', 'claims');
  const { store } = cloud;
  await store.putCompany({ companyId: COMPANY, name: 'Fenwick Water', channels: [], rules: {} });
  const dana = {
    personId: 'dana',
    mail: 'dana@fenwick.example',
    name: 'Dana',
    role: 'owner',
    units: 'us',
  } as const;
  await store.putPerson(COMPANY, dana);
  claims = await cloud.start('claims');
  api = await cloud.start('api', { [ENVIRONMENT.issuer]: issuer, [ENVIRONMENT.client]: CLIENT });
}, 120_000);
afterAll(async () => {
  close();
  await cloud.stop();
});

const responseSchema = z.object({
  response: z.object({
    claimsAndScopeOverrideDetails: z
      .strictObject({
        accessTokenGeneration: z.strictObject({ claimsToAddOrOverride: z.record(z.string(), z.string()) }),
      })
      .nullable(),
  }),
});

/** The access token that Amazon Cognito would make out to somebody, with what the function adds. */
async function tokenFor(attributes: Readonly<Record<string, string>>): Promise<string> {
  const event = preTokenEvent({ sub: 'a1b2', 'cognito:user_status': 'CONFIRMED', ...attributes });
  const answer = await claims.invoke(event);
  // The whole event goes back, with nothing changed but the response.
  expect(answer).toMatchObject({ ...event, response: {} });
  const { response } = responseSchema.parse(answer);
  const added = response.claimsAndScopeOverrideDetails?.accessTokenGeneration.claimsToAddOrOverride;
  // "Using the access token" in the Amazon Cognito developer guide: no `aud`, and no address of its own.
  return new SignJWT({
    sub: 'a1b2',
    token_use: 'access',
    scope: 'openid email',
    client_id: CLIENT,
    username: 'a1b2',
    ...added,
  })
    .setProtectedHeader({ alg: 'RS256', kid: 'k-1' })
    .setIssuer(issuer)
    .setIssuedAt()
    .setExpirationTime('1h')
    .sign(keys.privateKey);
}

async function me(token: string) {
  const event = httpEvent('GET', '/v1/me', { headers: { authorization: `Bearer ${token}` } });
  const { statusCode, body } = z
    .object({ statusCode: z.int(), body: z.string() })
    .parse(await api.invoke(event));
  return { statusCode, body: JSON.parse(body) };
}

test('somebody whose address Cognito has verified is who they are to the API', async () => {
  const token = await tokenFor({ email: 'Dana@fenwick.example', email_verified: 'true' });
  expect(await me(token)).toMatchObject({
    statusCode: 200,
    body: { person: { personId: 'dana', role: 'owner' } },
  });
});

test('an address that is not verified, or not there, is nobody’s', async () => {
  const unverified: Record<string, string>[] = [
    { email: 'dana@fenwick.example', email_verified: 'false' },
    { email: 'dana@fenwick.example' },
    {},
  ];
  for (const attributes of unverified) expect((await me(await tokenFor(attributes))).statusCode).toBe(401);
});
