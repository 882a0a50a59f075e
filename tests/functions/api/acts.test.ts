import { describe, expect, it } from 'vitest';
import { formatInstant } from '../../../shared/time/instant.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { keyOf, live, NOW, OPERATOR_KEY, service } from './service.ts';

const COMPANY = 'fenwick-water';
const DAY = 86_400_000;

/** A service with the small fleet, whose u-19 has a stalled meter. */
async function fleet() {
  const made = service();
  const key = await keyOf(made, COMPANY);
  await live(made.store, records, lines);
  const ask = async (method: string, path: string, body?: unknown, as = key) => {
    const response = await made.ask(method, path, { key: as, ...(body !== undefined && { body }) });
    const text = await response.text();
    return { status: response.status, body: text === '' ? undefined : JSON.parse(text), text };
  };
  const [alert] = await made.store.alertsOf({ companyId: COMPANY, unitId: 'u-19' });
  return { ...made, ask, key, address: `/v1/units/u-19/alerts/${alert?.alertId}` };
}

describe('an alert', () => {
  it('is acknowledged and shelved with who did it and when, and either is undone', async () => {
    const { ask, address, key } = await fleet();
    const name = key.slice(0, key.lastIndexOf('.'));
    const at = formatInstant(NOW);
    expect((await ask('GET', address)).body).toMatchObject({
      state: 'unacknowledged',
      acknowledged: null,
      shelved: null,
    });
    expect((await ask('PUT', `${address}/acknowledgement`, { by: 'Dana Reyes' })).body).toMatchObject({
      state: 'acknowledged',
      acknowledged: { by: `Dana Reyes (${name})`, at },
    });
    const until = formatInstant(NOW + 30 * DAY);
    expect((await ask('PUT', `${address}/shelving`, { until })).body).toMatchObject({
      state: 'shelved',
      shelved: { by: name, at, until },
      acknowledged: { at },
    });
    expect((await ask('GET', '/v1/alerts')).body.items).toMatchObject([{ unitId: 'u-19', state: 'shelved' }]);
    for (const act of ['shelving', 'acknowledgement', 'acknowledgement']) {
      expect((await ask('DELETE', `${address}/${act}`)).status).toBe(204);
    }
    expect((await ask('GET', address)).body).toMatchObject({
      state: 'unacknowledged',
      acknowledged: null,
      shelved: null,
    });
  });

  it('is acknowledged without a body too', async () => {
    const { ask, address } = await fleet();
    expect(await ask('PUT', `${address}/acknowledgement`)).toMatchObject({
      status: 200,
      body: { state: 'acknowledged' },
    });
  });

  it.each([
    ['until now', NOW, 'must lie ahead'],
    ['for longer than a year', NOW + 367 * DAY, 'at most a year'],
  ])('is not shelved %s', async (_, until, detail) => {
    const { ask, address } = await fleet();
    expect(await ask('PUT', `${address}/shelving`, { until: formatInstant(until) })).toMatchObject({
      status: 400,
      body: { errors: [{ pointer: '#/until', detail: expect.stringContaining(detail) }] },
    });
    expect((await ask('GET', address)).body.shelved).toBeNull();
  });

  it('that was shelved until a while ago is so no longer, and one that is over goes back to normal', async () => {
    const { ask, address, store } = await fleet();
    const ref = { companyId: COMPANY, unitId: 'u-19' };
    const [stored] = await store.alertsOf(ref);
    if (!stored) throw new Error('there is no alert');
    const { alertId, alert } = stored;
    await store.act(ref, alertId, { shelved: { by: 'desk', at: NOW - DAY, until: NOW } });
    expect((await ask('GET', address)).body).toMatchObject({ state: 'unacknowledged', shelved: null });
    await store.putAlert(ref, 2, alertId, { ...alert, clearedAt: formatInstant(NOW) });
    expect((await ask('GET', address)).body).toMatchObject({ state: 'returned' });
    await ask('PUT', `${address}/acknowledgement`);
    expect((await ask('GET', '/v1/alerts?state=over')).body.items).toMatchObject([{ state: 'normal' }]);
    expect((await ask('GET', '/v1/alerts')).body.items).toEqual([]);
  });
});

describe('a visit', () => {
  it('is planned, seen with the unit, and taken off once', async () => {
    const { ask } = await fleet();
    const planned = { technician: 'tech-4', date: '2026-04-02', reason: 'Meter seems to be stalled' };
    const visit = (await ask('POST', '/v1/units/u-19/visits', { ...planned, by: 'Dana Reyes' })).body;
    expect(visit).toMatchObject({
      ...planned,
      by: expect.stringContaining('Dana Reyes ('),
      at: formatInstant(NOW),
    });
    const sooner = (await ask('POST', '/v1/units/u-19/visits', { ...planned, date: '2026-04-01' })).body;
    expect((await ask('GET', '/v1/units/u-19/visits')).body).toEqual({ items: [sooner, visit] });
    expect((await ask('GET', '/v1/units/u-19')).body.visits).toHaveLength(2);
    const address = `/v1/units/u-19/visits/${visit.visitId}`;
    expect((await ask('DELETE', address)).status).toBe(204);
    expect(await ask('DELETE', address)).toMatchObject({
      status: 404,
      body: { type: '/problems/visit-unknown' },
    });
  });
});

describe('a company', () => {
  const webhook = { type: 'webhook', url: 'https://desk.example/hook', secret: 'a-secret-of-some-length' };

  it('never shows the secret of a webhook, keeps it where it is left out, and gives it to no other address', async () => {
    const { ask, store } = await fleet();
    const put = await ask('PUT', '/v1/company', { name: 'Fenwick', channels: [webhook] });
    const got = await ask('GET', '/v1/company');
    expect(got.body).toEqual(put.body);
    expect(got.text + put.text).not.toContain(webhook.secret);
    const { companyId: _, ...shown } = got.body;
    expect((await ask('PUT', '/v1/company', { ...shown, name: 'Fenwick Water' })).status).toBe(200);
    expect(await store.company(COMPANY)).toEqual({
      companyId: COMPANY,
      name: 'Fenwick Water',
      channels: [webhook],
      rules: {},
    });
    const elsewhere = [{ type: 'webhook', url: 'https://elsewhere.example/hook' }];
    expect(await ask('PUT', '/v1/company', { ...shown, channels: elsewhere })).toMatchObject({
      status: 400,
      body: { errors: [{ pointer: '#/channels/0/secret' }] },
    });
    expect((await store.company(COMPANY))?.channels).toEqual([webhook]);
  });

  it('has its rules judged, kept without the defaults, and all of its units looked at anew if they change', async () => {
    const { ask, store, sent } = await fleet();
    for (const rules of [{ overrun: { raise: 2 } }, { overrun: { rise: 0.9 } }, { overran: {} }]) {
      const { status, body } = await ask('PUT', '/v1/company', { name: 'Fenwick', rules });
      expect([status, body.errors[0].pointer]).toEqual([400, expect.stringMatching(/^#\/rules/)]);
    }
    expect(sent.assess).toEqual([]);
    const rules = { overrun: { raise: 0.97 } };
    for (const name of ['Fenwick', 'Fenwick Water']) {
      expect((await ask('PUT', '/v1/company', { name, rules })).body.rules).toEqual(rules);
    }
    expect((await store.company(COMPANY))?.rules).toEqual(rules);
    expect(sent.assess.map(({ group }) => group)).toEqual(
      ['u-17', 'u-18', 'u-19'].map((id) => `${COMPANY}/${id}`),
    );
  });

  it('and its meters have keys that are made, used and revoked', async () => {
    const { ask } = await fleet();
    const made = await ask('POST', `/v1/companies/${COMPANY}/keys`, undefined, OPERATOR_KEY);
    expect((await ask('GET', '/v1/units', undefined, made.body.key)).body.items).toHaveLength(3);
    const other = (await ask('POST', '/v1/companies', { companyId: 'tarn', name: 'Tarn' }, OPERATOR_KEY)).body
      .key;
    const taken = encodeURIComponent(made.body.name);
    // Another company's name in the address revokes nothing, nor does the key of a meter's name.
    await ask('DELETE', `/v1/companies/tarn/keys/${taken}`, undefined, OPERATOR_KEY);
    expect((await ask('GET', '/v1/units', undefined, made.body.key)).status).toBe(200);
    await ask('DELETE', `/v1/companies/${COMPANY}/keys/${taken}`, undefined, OPERATOR_KEY);
    expect((await ask('GET', '/v1/units', undefined, made.body.key)).status).toBe(401);
    expect((await ask('GET', '/v1/units', undefined, other)).body).toEqual({ items: [] });

    const before = (await ask('POST', '/v1/units/u-19/credential')).body;
    const { username, password } = (await ask('POST', '/v1/units/u-19/credential')).body;
    expect(username).toBe(`${COMPANY}/u-19`);
    const asMeter = (secret: string) => ask('GET', '/v1/units', undefined, `${username}.${secret}`);
    expect((await asMeter(before.password)).status).toBe(401);
    expect((await asMeter(password)).status).toBe(403);
    expect((await ask('DELETE', '/v1/units/u-19/credential')).status).toBe(204);
    expect((await asMeter(password)).status).toBe(401);
  });
});
