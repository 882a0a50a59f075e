import { expect, it } from 'vitest';
import { apiApp } from '../../../functions/api/app.ts';
import { thingNameOf } from '../../../shared/thingName.ts';
import { records } from '../../support/smallFleet.ts';
import { keyOf, live, service } from './service.ts';

const COMPANY = 'fenwick-water';
const PATH = '/v1/units/u-19/credential';

async function fleet() {
  const made = service();
  await live(made.store, records, []);
  const key = await keyOf(made, COMPANY);
  const headers = (more: Record<string, string> = {}) => ({ authorization: `Bearer ${key}`, ...more });
  return { ...made, headers };
}

it('a credential is made where there is none, if that is asked for, and else in place of the one before', async () => {
  const { app, headers } = await fleet();
  const onlyIfNone = { method: 'POST', headers: headers({ 'if-none-match': '*' }) };
  const first = await app.request(PATH, onlyIfNone);
  expect(first.status).toBe(201);
  expect(await first.json()).toMatchObject({ kind: 'password', topic: 'units/u-19/events' });
  const refused = await app.request(PATH, onlyIfNone);
  expect(refused.status).toBe(412);
  expect(await refused.json()).toMatchObject({ type: '/problems/credential-exists' });
  expect((await app.request(PATH, { method: 'POST', headers: headers() })).status).toBe(201);
  await app.request(PATH, { method: 'DELETE', headers: headers() });
  expect((await app.request(PATH, onlyIfNone)).status).toBe(201);
  const odd = { method: 'POST', headers: headers({ 'if-none-match': '"1"' }) };
  expect((await app.request(PATH, odd)).status).toBe(400);
});

it('ids that the broker cannot name a meter by are told of as such', async () => {
  const { ports, headers } = await fleet();
  const app = apiApp(ports, {
    answerSecret: async () => 'answers',
    health: async () => ({ ok: true, queues: 'empty' }),
    credentials: {
      has: async () => false,
      issue: async () => {
        // 40 characters, a colon, and 64 of which half are dots: 137.
        thingNameOf({ companyId: 'c'.repeat(40), unitId: 'u.'.repeat(32) });
        throw new Error('there is such a name');
      },
      revoke: async () => {},
    },
  });
  const answer = await app.request(PATH, { method: 'POST', headers: headers() });
  expect(answer.status).toBe(422);
  expect(await answer.json()).toMatchObject({
    type: '/problems/unit-id-too-long',
    detail: expect.stringMatching(/shorter id/),
  });
});
