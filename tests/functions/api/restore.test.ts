import { describe, expect, it } from 'vitest';
import { hashOf } from '../../../functions/secrets.ts';
import { records } from '../../support/smallFleet.ts';
import { keyOf, live, NOW, OPERATOR_KEY, service, tokenOf } from './service.ts';

const COMPANY = 'fenwick-water';
const REST = '/v1/backup/rest.ndjson';
const NDJSON = 'application/x-ndjson';
const REF = { companyId: COMPANY, unitId: 'u-17' };

/** A company with its units and nothing beside. */
async function bare() {
  const made = service();
  const key = await keyOf(made, COMPANY);
  await live(made.store, records, []);
  const call = async (method: string, path: string, body?: string) => {
    const response = await made.ask(method, path, { key, ...(body !== undefined && { body, type: NDJSON }) });
    return { status: response.status, text: await response.text() };
  };
  return { ...made, key, call };
}

/** The same with something of every kind. */
async function full() {
  const made = await bare();
  const { store } = made;
  await store.putCompany({
    ...{ companyId: COMPANY, name: 'Fenwick Water', rules: { overrun: { raise: 0.97 } } },
    channels: [
      { type: 'mail', to: ['desk@fenwick.example'] },
      { type: 'webhook', url: 'https://desk.fenwick.example/hook', secret: 'a-secret-of-the-hook' },
    ],
  });
  await store.putPerson(COMPANY, {
    ...{ personId: 'dana', mail: 'dana@fenwick.example', name: 'Dana Reyes' },
    ...{ role: 'owner', units: 'metric', sms: '+12025550143' },
  });
  const visit = { technician: 'tech-4', date: '2026-04-02', reason: 'stalled', by: 'desk', at: NOW };
  await store.putVisit(REF, { visitId: 'visit-1', ...visit });
  await store.putPrincipal({ ...REF, name: `${COMPANY}/u-17`, secretHash: hashOf('the-password') });
  await store.putQuarantined([
    {
      ...{ companyId: COMPANY, sender: COMPANY, receivedAt: NOW },
      ...{ reason: 'not-json', detail: 'no', raw: 'x' },
    },
  ]);
  await store.putAudited(COMPANY, { by: 'dana', at: NOW, what: 'GET x', unitId: null, detail: null });
  return made;
}

describe('what stands beside units and events', () => {
  it('comes back elsewhere: rules, people, visits, and meters that need no new password', async () => {
    const from = await full();
    const to = await bare();
    const { text } = await from.call('GET', REST);
    const restored = await to.call('PUT', REST, text);
    expect(JSON.parse(restored.text)).toEqual({ accepted: 4, readOnly: 4, problems: [] });
    expect(await to.store.people(COMPANY)).toEqual(await from.store.people(COMPANY));
    expect(await to.store.visits(REF)).toEqual(await from.store.visits(REF));
    const { name, rules, channels } = (await to.store.company(COMPANY)) ?? {};
    expect({ name, rules }).toEqual({ name: 'Fenwick Water', rules: { overrun: { raise: 0.97 } } });
    // A history that is sent in afresh must find nobody to tell.
    expect(channels).toEqual([]);
    const sent = await to.ask('POST', '/v1/events', {
      ...{ key: `${COMPANY}/u-17.the-password`, body: '{}\n', type: NDJSON },
    });
    expect(sent.status).toBe(202);
  });

  it('holds no secret: none of a webhook, and of passwords what nobody gets back', async () => {
    const { call, key } = await full();
    const { text } = await call('GET', REST);
    for (const secret of ['a-secret-of-the-hook', 'the-password', key.slice(key.lastIndexOf('.') + 1)]) {
      expect(text).not.toContain(secret);
    }
  });

  it('cannot be used to write down what nobody did', async () => {
    const { call, store } = await bare();
    const act = { kind: 'act', by: 'somebody else', at: '2026-03-01T00:00:00Z', what: 'DELETE x' };
    const answer = await call('PUT', REST, `${JSON.stringify(act)}\n`);
    expect(JSON.parse(answer.text)).toMatchObject({ accepted: 0, readOnly: 1 });
    const { items } = await store.audited(COMPANY, { limit: 10 });
    // That it was tried is written down, without what was said: that may be a whole backup.
    expect(items.map(({ by }) => by)).not.toContain('somebody else');
    expect(items.find(({ what }) => what === 'PUT backup/rest.ndjson')).toMatchObject({ detail: null });
  });

  it('goes into the caller’s company only, whatever its lines say', async () => {
    const from = await full();
    const { text } = await from.call('GET', REST);
    const strangers = await keyOf(from, 'gull-softening');
    const before = await Promise.all([from.store.company(COMPANY), from.store.people(COMPANY)]);
    const planted = JSON.stringify({ kind: 'credential', unitId: 'u-17', secretHash: hashOf('mine') });
    const response = await from.ask('PUT', REST, {
      ...{ key: strangers, body: `${text}${planted}\n`, type: NDJSON },
    });
    const { accepted, problems } = JSON.parse(await response.text());
    // Its own name and rules; the person is somebody of another company, the units are none of its own.
    expect({ accepted, problems: problems.length }).toEqual({ accepted: 1, problems: 4 });
    expect(await Promise.all([from.store.company(COMPANY), from.store.people(COMPANY)])).toEqual(before);
    expect((await from.store.principal(`${COMPANY}/u-17`))?.secretHash).toBe(hashOf('the-password'));
    expect(await from.store.principal('gull-softening/u-17')).toBeUndefined();
  });

  it('judges each line on its own', async () => {
    const { call, store } = await bare();
    const good = { kind: 'person', personId: 'lee', mail: 'lee@x.example', name: 'Lee', role: 'analyst' };
    const lines = [
      ...[
        '{',
        '[]',
        'null',
        '{"kind":"company"}',
        '{"kind":"__proto__"}',
        '{"kind":"key","name":"operator"}',
      ],
      JSON.stringify({ kind: 'credential', unitId: 'u-17', secretHash: 'short' }),
      JSON.stringify({ ...good, role: 'operator' }),
      JSON.stringify(good),
      JSON.stringify({ ...good, personId: 'other' }),
    ];
    const { text } = await call('PUT', REST, lines.join('\r\n'));
    const { accepted, problems } = JSON.parse(text);
    expect(accepted).toBe(1);
    expect(problems.map(({ line }: { line: number }) => line)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 10]);
    expect((await store.people(COMPANY)).map(({ personId }) => personId)).toEqual(['lee']);
  });

  it('is for owners alone', async () => {
    const { store, ask } = await bare();
    const person = {
      personId: 'd',
      mail: 'd@x.example',
      name: 'D',
      role: 'dispatcher',
      units: 'us',
    } as const;
    await store.putPerson(COMPANY, person);
    for (const method of ['GET', 'PUT']) {
      const given = {
        key: await tokenOf('d@x.example'),
        ...(method === 'PUT' && { body: '', type: NDJSON }),
      };
      expect((await ask(method, REST, given)).status).toBe(403);
      expect((await ask(method, REST, { ...given, key: OPERATOR_KEY })).status).toBe(403);
    }
  });
});
