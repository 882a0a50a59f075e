import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { IoTClient } from '@aws-sdk/client-iot';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { lettersOf } from '../../../../functions/claimCode.ts';
import { hashOf } from '../../../../functions/secrets.ts';
import { thingCertificates } from '../../../../infra/aws/parts/thingCertificates.ts';
import { thingCredentials } from '../../../../infra/aws/parts/thingCredentials.ts';
import { memoryStore } from '../../../support/memoryStore.ts';

/*
 * Against a server of our own that speaks as much of AWS IoT Core as is asked for, after the API Reference's pages of
 * ListThingPrincipals, UpdateCertificate, DetachThingPrincipal and DescribeEndpoint. The real one was not at hand.
 */
const ENDPOINT = 'a3qj468EXAMPLE-ats.iot.us-west-2.amazonaws.com';
const NOW = Date.UTC(2026, 2, 20, 12);
const UNIT = { companyId: 'fenwick.water', unitId: 'u-17' };
const THING = 'fenwick:-water:u-17';
const [ONE = '', TWO = '', THREE = ''] = ['1', '2', '3'].map((digit) => digit.repeat(64));
const arnOf = (id: string) => `arn:aws:iot:us-west-2:123456789012:cert/${id}`;

let server: Server;
let client: IoTClient;
let things: Map<string, string[]>;
let status: Map<string, string>;
/** What is asked in vain, by method and path. */
let failing: Map<string, number>;
let asked: string[];

beforeEach(async () => {
  things = new Map();
  status = new Map();
  failing = new Map();
  asked = [];
  server = createServer(answer).listen(0, '127.0.0.1');
  await once(server, 'listening');
  client = new IoTClient({
    endpoint: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    region: 'us-west-2',
    credentials: { accessKeyId: 'a', secretAccessKey: 's' },
    maxAttempts: 1,
  });
});

afterEach(() => {
  client.destroy();
  server.close();
});

function answer(request: IncomingMessage, response: ServerResponse) {
  const { method = '', url = '', headers } = request;
  const { pathname, searchParams } = new URL(url, 'http://x');
  const parts = pathname.split('/').map(decodeURIComponent);
  const name = `${method} ${parts.join('/')}`;
  asked.push(name);
  const json = (body: unknown, code = 200, type?: string) =>
    response
      .writeHead(code, { 'content-type': 'application/json', ...(type && { 'x-amzn-errortype': type }) })
      .end(JSON.stringify(body));
  const fails = failing.get(name) ?? 0;
  if (fails > 0) {
    failing.set(name, fails - 1);
    return json({ message: 'Rate exceeded' }, 400, 'ThrottlingException');
  }
  const [, kind, id = ''] = parts;
  if (kind === 'endpoint') return json({ endpointAddress: ENDPOINT });
  if (kind === 'certificates') {
    if (!status.has(id)) return json({ message: 'no certificate' }, 404, 'ResourceNotFoundException');
    status.set(id, searchParams.get('newStatus') ?? '');
    return json({});
  }
  const principals = things.get(id);
  if (!principals) return json({ message: 'no thing' }, 404, 'ResourceNotFoundException');
  if (method === 'DELETE') {
    const principal = headers['x-amzn-principal'];
    things.set(
      id,
      principals.filter((each) => each !== principal),
    );
    return json({});
  }
  // A page of one, whatever is asked for.
  const at = Number(searchParams.get('nextToken') ?? 0);
  return json({
    principals: principals.slice(at, at + 1),
    ...(at + 1 < principals.length && { nextToken: String(at + 1) }),
  });
}

function thingWith(...ids: string[]) {
  things.set(THING, ['us-west-2:a-cognito-identity', ...ids.map(arnOf)]);
  for (const id of ids) status.set(id, 'ACTIVE');
}

test('certificates are revoked and taken off, all but the one that is named', async () => {
  thingWith(ONE, TWO, THREE);
  const certificates = thingCertificates(client);
  expect(await certificates.any(THING)).toBe(true);
  await certificates.revoke(THING, TWO);
  expect(Object.fromEntries(status)).toEqual({ [ONE]: 'REVOKED', [TWO]: 'ACTIVE', [THREE]: 'REVOKED' });
  expect(things.get(THING)).toEqual(['us-west-2:a-cognito-identity', arnOf(TWO)]);
  await certificates.revoke(THING);
  expect(status.get(TWO)).toBe('REVOKED');
  expect(await certificates.any(THING)).toBe(false);
});

test('a meter that never came has nothing to revoke', async () => {
  const certificates = thingCertificates(client);
  expect(await certificates.any(THING)).toBe(false);
  await certificates.revoke(THING);
  expect(status.size).toBe(0);
});

test('what broke off is done when it is asked for again', async () => {
  thingWith(ONE, TWO);
  const certificates = thingCertificates(client);
  failing.set(`DELETE /things/${THING}/principals`, 1);
  await expect(certificates.revoke(THING)).rejects.toMatchObject({ name: 'ThrottlingException' });
  // It counts no longer although it is still attached.
  expect(Object.fromEntries(status)).toEqual({ [ONE]: 'REVOKED', [TWO]: 'ACTIVE' });
  await certificates.revoke(THING);
  expect([...status.values()]).toEqual(['REVOKED', 'REVOKED']);
  expect(await certificates.any(THING)).toBe(false);
});

test('a code is given out with all that the meter needs, and nothing of the code but its hash is kept', async () => {
  const store = memoryStore();
  const credentials = thingCredentials({ client, store, now: () => NOW, template: 'brinebell-meters' });
  failing.set('GET /endpoint', 1);
  await expect(credentials.issue(UNIT)).rejects.toMatchObject({ name: 'ThrottlingException' });
  const first = await credentials.issue(UNIT);
  const second = await credentials.issue(UNIT);
  expect(asked.filter((each) => each === 'GET /endpoint')).toHaveLength(2);
  expect(first).toEqual({
    ...{ kind: 'claim', ...UNIT, claimCode: expect.any(String), expiresAt: '2026-06-18T12:00:00.000Z' },
    ...{ template: 'brinebell-meters', endpoint: ENDPOINT, thingName: THING, topic: 'units/u-17/events' },
  });
  if (first.kind !== 'claim' || second.kind !== 'claim') throw new Error('it asks for certificates');
  expect(second.claimCode).not.toBe(first.claimCode);
  const kept = await store.claim(UNIT);
  expect(kept?.codeHash).toBe(hashOf(lettersOf(second.claimCode) ?? ''));
  expect(JSON.stringify(kept)).not.toContain(lettersOf(second.claimCode));
});

test('there is a credential while a code is open or a certificate works', async () => {
  const store = memoryStore();
  const clock = { now: NOW };
  const credentials = thingCredentials({ client, store, now: () => clock.now, template: 't' });
  expect(await credentials.has(UNIT)).toBe(false);
  await credentials.issue(UNIT);
  expect(await credentials.has(UNIT)).toBe(true);
  const claim = await store.claim(UNIT);
  if (!claim) throw new Error('there is one');
  await store.useClaim(claim, { at: NOW, keyHash: 'k' });
  expect(await credentials.has(UNIT)).toBe(false);
  thingWith(ONE);
  expect(await credentials.has(UNIT)).toBe(true);
  await credentials.issue(UNIT);
  // The certificate before works until the code is used.
  expect(status.get(ONE)).toBe('ACTIVE');
  await credentials.revoke(UNIT);
  expect(await store.claim(UNIT)).toBeUndefined();
  expect(status.get(ONE)).toBe('REVOKED');
  expect(await credentials.has(UNIT)).toBe(false);
  await credentials.issue(UNIT);
  clock.now += 90 * 86_400_000;
  expect(await credentials.has(UNIT)).toBe(false);
});

test('ids that make no name are told of before anything is kept', async () => {
  const store = memoryStore();
  const credentials = thingCredentials({ client, store, now: () => NOW, template: 't' });
  const long = { companyId: 'c'.repeat(64), unitId: 'u'.repeat(64) };
  await expect(credentials.issue(long)).rejects.toMatchObject({ code: 'name-too-long' });
  expect(await store.claim(long)).toBeUndefined();
});
