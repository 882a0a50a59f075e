import { IoTClient } from '@aws-sdk/client-iot';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { lettersOf } from '../../../../functions/meters/claimCode.ts';
import { hashOf } from '../../../../functions/secrets.ts';
import { thingCertificates } from '../../../../infra/aws/parts/thingCertificates.ts';
import { thingCredentials } from '../../../../infra/aws/parts/thingCredentials.ts';
import { arnOf, BROKER, type LocalIot, localIot } from '../../../support/aws/iot.ts';
import { memoryStore } from '../../../support/memoryStore.ts';

// The real AWS IoT Core was not at hand: this is a server of our own.
const NOW = Date.UTC(2026, 2, 20, 12);
const UNIT = { companyId: 'fenwick.water', unitId: 'u-17' };
const THING = 'fenwick:-water:u-17';
const [ONE = '', TWO = '', THREE = ''] = ['1', '2', '3'].map((digit) => digit.repeat(64));

let iot: LocalIot;
let client: IoTClient;

beforeEach(async () => {
  iot = await localIot();
  client = new IoTClient({
    endpoint: iot.endpoint,
    region: 'us-west-2',
    credentials: { accessKeyId: 'a', secretAccessKey: 's' },
    maxAttempts: 1,
  });
});

afterEach(() => {
  client.destroy();
  return iot.close();
});

test('certificates are revoked and taken off, all but the one that is named', async () => {
  iot.put(THING, ONE, TWO, THREE);
  const certificates = thingCertificates(client);
  expect(await certificates.any(THING)).toBe(true);
  await certificates.revoke(THING, TWO);
  expect(Object.fromEntries(iot.status)).toEqual({ [ONE]: 'REVOKED', [TWO]: 'ACTIVE', [THREE]: 'REVOKED' });
  expect(iot.things.get(THING)).toEqual(['us-west-2:a-cognito-identity', arnOf(TWO)]);
  await certificates.revoke(THING);
  expect(iot.status.get(TWO)).toBe('REVOKED');
  expect(await certificates.any(THING)).toBe(false);
});

test('a meter that never came has nothing to revoke', async () => {
  const certificates = thingCertificates(client);
  expect(await certificates.any(THING)).toBe(false);
  await certificates.revoke(THING);
  expect(iot.status.size).toBe(0);
});

test('what broke off is done when it is asked for again', async () => {
  iot.put(THING, ONE, TWO);
  const certificates = thingCertificates(client);
  iot.failing.set(`DELETE /things/${THING}/principals`, 1);
  await expect(certificates.revoke(THING)).rejects.toMatchObject({ name: 'ThrottlingException' });
  // It counts no longer although it is still attached.
  expect(Object.fromEntries(iot.status)).toEqual({ [ONE]: 'REVOKED', [TWO]: 'ACTIVE' });
  await certificates.revoke(THING);
  expect([...iot.status.values()]).toEqual(['REVOKED', 'REVOKED']);
  expect(await certificates.any(THING)).toBe(false);
});

test('a code is given out with all that the meter needs, and nothing of the code but its hash is kept', async () => {
  const store = memoryStore();
  const credentials = thingCredentials({ client, store, now: () => NOW, template: 'brinebell-meters' });
  iot.failing.set('GET /endpoint', 1);
  await expect(credentials.issue(UNIT)).rejects.toMatchObject({ name: 'ThrottlingException' });
  const first = await credentials.issue(UNIT);
  const second = await credentials.issue(UNIT);
  expect(iot.asked.filter((each) => each === 'GET /endpoint')).toHaveLength(2);
  expect(first).toEqual({
    ...{ kind: 'claim', ...UNIT, claimCode: expect.any(String), expiresAt: '2026-06-18T12:00:00.000Z' },
    ...{ template: 'brinebell-meters', endpoint: BROKER, thingName: THING, topic: 'units/u-17/events' },
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
  iot.put(THING, ONE);
  expect(await credentials.has(UNIT)).toBe(true);
  await credentials.issue(UNIT);
  // The certificate before works until the code is used.
  expect(iot.status.get(ONE)).toBe('ACTIVE');
  await credentials.revoke(UNIT);
  expect(await store.claim(UNIT)).toBeUndefined();
  expect(iot.status.get(ONE)).toBe('REVOKED');
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
