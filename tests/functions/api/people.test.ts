import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { answerToken } from '../../../functions/answerToken.ts';
import { apiApp } from '../../../functions/api/app.ts';
import { newChanges } from '../../../functions/changes.ts';
import { passwordCredentials } from '../../../functions/meters/credentials.ts';
import type { Person } from '../../../lib/store/person.ts';
import type { Store } from '../../../lib/store/store.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { keyOf, OPERATOR_KEY, service, tokenOf } from './service.ts';

const COMPANY = 'fenwick-water';
const OWNER: Person = { personId: 'o', mail: 'o@x.example', name: 'Olu', role: 'owner', units: 'us' };
const DANA: Person = { personId: 'd', mail: 'd@x.example', name: 'Dana', role: 'dispatcher', units: 'us' };

async function company(store: Store = memoryStore()) {
  await store.putCompany({ companyId: COMPANY, name: 'Fenwick', channels: [], rules: {} });
  for (const person of [OWNER, DANA]) await store.putPerson(COMPANY, person);
  return service(store);
}

/** A store of which one method fails for as long as `fails`. */
function failing<Method extends 'putAudited' | 'dropPerson' | 'company'>(store: Store, method: Method) {
  const state = { fails: true };
  const broken: Store = {
    ...store,
    [method]: async (...args: Parameters<Store[Method]>) => {
      if (state.fails) throw new Error('not now');
      return Reflect.apply(store[method], store, args);
    },
  };
  return { store: broken, state };
}

describe('people', () => {
  it('who have been taken off do nothing more, however slowly their request comes in', async () => {
    const made = await company();
    const key = await tokenOf(DANA.mail);
    let release = () => {};
    const held = new Promise<void>((resolve) => {
      release = resolve;
    });
    const body = new ReadableStream({
      async start(controller) {
        controller.enqueue(new TextEncoder().encode('{'));
        await held;
        controller.enqueue(new TextEncoder().encode('}'));
        controller.close();
      },
    });
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json' };
    const init = { method: 'PUT', headers, body, duplex: 'half' as const };
    const pending = made.app.request('/v1/me', init);
    await new Promise((resolve) => setTimeout(resolve, 50));
    const owner = await tokenOf(OWNER.mail);
    expect((await made.ask('DELETE', '/v1/people/d', { key: owner })).status).toBe(204);
    release();
    expect((await pending).status).toBe(403);
    expect(await made.store.personOf(DANA.mail)).toBeUndefined();
  });

  it('are known by one address, also where a change of it was cut off', async () => {
    for (const [from, to] of [
      ['a@x.example', 'b@x.example'],
      ['z@x.example', 'y@x.example'],
    ]) {
      const { store, state } = failing(memoryStore(), 'dropPerson');
      const made = await company(store);
      const key = await tokenOf(OWNER.mail);
      const put = (mail: string | undefined) =>
        made.ask('PUT', '/v1/people/t', { key, body: { mail, name: 'T', role: 'technician' } });
      await put(from);
      expect((await put(to)).status).toBe(500);
      state.fails = false;
      expect((await put(to)).status).toBe(200);
      expect((await store.people(COMPANY)).filter(({ personId }) => personId === 't')).toMatchObject([
        { mail: to },
      ]);
      await made.ask('DELETE', '/v1/people/t', { key });
      for (const mail of [from, to]) expect(await store.personOf(mail ?? '')).toBeUndefined();
    }
  });

  it('leave their company an owner; a key of it need not', async () => {
    const made = await company();
    const key = await tokenOf(OWNER.mail);
    expect((await made.ask('DELETE', '/v1/people/o', { key })).status).toBe(409);
    const less = { mail: OWNER.mail, name: 'Olu', role: 'analyst' };
    expect((await made.ask('PUT', '/v1/people/o', { key, body: less })).status).toBe(409);
    expect((await made.ask('DELETE', '/v1/people/o', { key: await keyOf(made, COMPANY) })).status).toBe(204);
  });

  it('are believed by an address that the provider does not doubt, of letters that look like no others', async () => {
    const made = await company();
    for (const verified of [false, 'false', 0, null, 'no']) {
      const key = await tokenOf(DANA.mail, { claims: { email_verified: verified } });
      expect((await made.ask('GET', '/v1/me', { key })).status).toBe(401);
    }
    await made.store.putPerson(COMPANY, { ...DANA, personId: 'k', mail: 'kim@x.example' });
    // U+212A, the sign of the kelvin, becomes a k when it is made small.
    const key = await tokenOf('\u212Aim@x.example');
    expect((await made.ask('GET', '/v1/me', { key })).status).toBe(401);
  });
});

describe('what somebody does', () => {
  it('is written down before it is done, and taken off again where it was refused', async () => {
    const { store, state } = failing(memoryStore(), 'putAudited');
    const made = await company(store);
    const key = await tokenOf(OWNER.mail);
    expect((await made.ask('DELETE', '/v1/people/d', { key })).status).toBe(500);
    expect(await store.personOf(DANA.mail)).toBeDefined();
    state.fails = false;
    expect((await made.ask('DELETE', '/v1/people/d', { key })).status).toBe(204);
    expect((await made.ask('DELETE', '/v1/people/d', { key })).status).toBe(404);
    expect((await made.ask('HEAD', '/v1/me', { key })).status).toBe(200);
    const { items } = await store.audited(COMPANY, { limit: 9 });
    expect(items).toMatchObject([{ by: 'Olu (owner)', what: 'DELETE people/d' }]);
  });

  it('is written down too where it takes all of the company’s data away', async () => {
    const { store, state } = failing(memoryStore(), 'putAudited');
    const made = await company(store);
    const key = await tokenOf(OWNER.mail);
    const taken = () =>
      Promise.all(
        ['units', 'events', 'rest'].map((name) => made.ask('GET', `/v1/backup/${name}.ndjson`, { key })),
      );
    expect((await taken()).map(({ status }) => status)).toEqual([500, 500, 500]);
    state.fails = false;
    expect((await taken()).map(({ status }) => status)).toEqual([200, 200, 200]);
    const { items } = await store.audited(COMPANY, { limit: 9 });
    expect(items.map(({ by, what }) => `${by}: ${what}`).sort()).toEqual([
      'Olu (owner): GET backup/events.ndjson',
      'Olu (owner): GET backup/rest.ndjson',
      'Olu (owner): GET backup/units.ndjson',
    ]);
  });

  it('the operator can do to a company only so that its people see it', async () => {
    const { store, state } = failing(memoryStore(), 'putAudited');
    const made = await company(store);
    const keys = `/v1/companies/${COMPANY}/keys`;
    expect((await made.ask('POST', keys, { key: OPERATOR_KEY })).status).toBe(500);
    state.fails = false;
    const { name } = z
      .object({ name: z.string() })
      .parse(await (await made.ask('POST', keys, { key: OPERATOR_KEY })).json());
    state.fails = true;
    expect(
      (await made.ask('DELETE', `${keys}/${encodeURIComponent(name)}`, { key: OPERATOR_KEY })).status,
    ).toBe(500);
    expect(await store.principal(name)).toBeDefined();
    state.fails = false;
    await made.ask('DELETE', `${keys}/${encodeURIComponent(name)}`, { key: OPERATOR_KEY });
    const { items } = await store.audited(COMPANY, { limit: 9 });
    expect(items.map(({ by, what }) => `${by}: ${what}`).sort()).toEqual([
      `operator: DELETE companies/${COMPANY}/keys/${name}`,
      `operator: POST companies/${COMPANY}/keys`,
    ]);
  });
});

describe('what goes into the log', () => {
  it('is no token by which somebody answers for a household', async () => {
    const told: unknown[] = [];
    const made = service(failing(memoryStore(), 'company').store);
    const log = { ...made.ports.log, error: (...what: unknown[]) => void told.push(what) };
    const app = apiApp(
      { ...made.ports, log },
      {
        answerSecret: async () => 'answers',
        credentials: passwordCredentials(made.store),
        health: async () => ({ ok: true }),
      },
    );
    const days = { since: 20_500, until: 20_600 };
    const token = answerToken({ companyId: COMPANY, unitId: 'u-17', ...days }, 'answers');
    expect((await app.request(`/answer/${token}`)).status).toBe(500);
    expect(told).toHaveLength(1);
    expect(JSON.stringify(told)).not.toContain(token);
  });
});

describe('visits', () => {
  it('of no day are none, whatever days are asked for', async () => {
    const made = await company();
    const key = await tokenOf(DANA.mail);
    for (const query of ['from=2027-06-01', 'to=2020-01-01', 'from=2026-05-01&to=2026-04-01', '']) {
      const answer = await made.ask('GET', `/v1/visits?${query}`, { key });
      expect([query, answer.status, await answer.json()]).toEqual([query, 200, { items: [] }]);
    }
  });
});

describe('the stream of changes', () => {
  it('is not left behind by a HEAD, and ends for whoever leaves', async () => {
    const made = await company();
    const ending = new AbortController();
    const changes = newChanges(ending.signal);
    let listening = 0;
    const listen: typeof changes.listen = (companyId, listener) => {
      listening += 1;
      const stop = changes.listen(companyId, listener);
      return () => {
        listening -= 1;
        stop();
      };
    };
    const app = apiApp(
      { ...made.ports, changes: { ...changes, listen } },
      {
        answerSecret: async () => 'answers',
        credentials: passwordCredentials(made.store),
        health: async () => ({ ok: true, queues: 'empty' }),
      },
    );
    const headers = { authorization: `Bearer ${await keyOf(made, COMPANY)}` };
    for (let time = 0; time < 5; time++) await app.request('/v1/changes', { method: 'HEAD', headers });
    const answer = await app.request('/v1/changes', { headers });
    const reader = answer.body?.pipeThrough(new TextDecoderStream()).getReader();
    for (let time = 0; time < 1000; time++) changes.tell({ companyId: COMPANY, unitId: 'u-1' });
    let heard = '';
    while (!heard.includes('u-1')) heard += (await reader?.read())?.value ?? 'u-1';
    // However often it changed meanwhile, it is told of once.
    expect(heard.split('u-1')).toHaveLength(2);
    await reader?.cancel();
    ending.abort();
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(listening).toBe(0);
  });
});
