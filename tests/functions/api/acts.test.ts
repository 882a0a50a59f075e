import { describe, expect, it } from 'vitest';
import { receivedSchema } from '../../../functions/messages.ts';
import { formatInstant } from '../../../shared/time/instant.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { Pipeline } from '../../support/pipeline.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { bodies, keyOf, live, NOW, OPERATOR_KEY, service } from './service.ts';

const COMPANY = 'fenwick-water';
const DAY = 86_400_000;

/** A service, and the functions that take in what it is told: they do so when `settle` is called. */
async function serviceOf(store = memoryStore()) {
  const clock = { now: NOW };
  const made = service(store, () => clock.now);
  const key = await keyOf(made, COMPANY);
  const pipeline = new Pipeline(
    store,
    () => 0.999,
    () => clock.now,
  );
  const settle = async () => {
    for (const message of bodies(made.sent.ingest.splice(0))) {
      await pipeline.receive(receivedSchema.parse(message));
    }
    await pipeline.drain();
    // Each act is known a moment after the one before.
    clock.now += 1_000;
  };
  const ask = async (method: string, path: string, body?: unknown, as = key) => {
    const response = await made.ask(method, path, { key: as, ...(body !== undefined && { body }) });
    const text = await response.text();
    const isJson = response.headers.get('content-type')?.endsWith('json') && !path.includes('ndjson');
    return { status: response.status, body: isJson ? JSON.parse(text) : undefined, text };
  };
  /** Says something that is taken in as an event. */
  const state = async (method: string, path: string, body?: unknown) => {
    const answer = await ask(method, path, body);
    expect(answer).toMatchObject({ status: 202, body: { id: expect.any(String) } });
    await settle();
  };
  return { ...made, clock, ask, state, settle, pipeline, key };
}

/** A service with the small fleet, whose u-19 has a stalled meter. */
async function fleet() {
  const made = await serviceOf();
  await live(made.store, records, lines);
  const alerts = await made.store.alertsOf({ companyId: COMPANY, unitId: 'u-19' });
  const stall = alerts.find(({ alert }) => alert.kind === 'no-flow');
  if (!stall) throw new Error('the stalled meter of the small fleet raises no alert');
  return { ...made, address: `/v1/units/u-19/alerts/${stall.alertId}` };
}

describe('an alert', () => {
  it('is acknowledged and shelved with who did it and when, and either is undone', async () => {
    const { ask, state, address, key, clock } = await fleet();
    const name = key.slice(0, key.lastIndexOf('.'));
    const untouched = { state: 'unacknowledged', acknowledged: null, shelved: null };
    expect((await ask('GET', address)).body).toMatchObject(untouched);
    const at = formatInstant(clock.now);
    await state('PUT', `${address}/acknowledgement`, { by: 'Dana Reyes' });
    expect((await ask('GET', address)).body).toMatchObject({
      state: 'acknowledged',
      acknowledged: { by: `Dana Reyes (${name})`, at },
    });
    const until = formatInstant(NOW + 30 * DAY);
    const shelvedAt = formatInstant(clock.now);
    await state('PUT', `${address}/shelving`, { until });
    expect((await ask('GET', address)).body).toMatchObject({
      state: 'shelved',
      shelved: { by: name, at: shelvedAt, until },
      acknowledged: { at },
    });
    const listed = (await ask('GET', '/v1/alerts')).body.items;
    expect(listed.find(({ unitId }: { unitId: string }) => unitId === 'u-19')).toMatchObject({
      state: 'shelved',
    });
    for (const act of ['shelving', 'acknowledgement', 'acknowledgement']) {
      await state('DELETE', `${address}/${act}`);
    }
    expect((await ask('GET', address)).body).toMatchObject(untouched);
  });

  it('is acknowledged without a body too', async () => {
    const { ask, state, address } = await fleet();
    await state('PUT', `${address}/acknowledgement`);
    expect((await ask('GET', address)).body).toMatchObject({ state: 'acknowledged' });
  });

  it('that is none is not acted on', async () => {
    const { ask, sent } = await fleet();
    for (const [method, act] of [
      ['PUT', 'acknowledgement'],
      ['DELETE', 'acknowledgement'],
      ['DELETE', 'shelving'],
    ]) {
      expect(await ask(method ?? '', `/v1/units/u-19/alerts/no-flow-1/${act}`)).toMatchObject({
        status: 404,
        body: { type: '/problems/alert-unknown' },
      });
    }
    expect(sent.ingest).toEqual([]);
  });

  it.each([
    ['until now', NOW, 'must lie ahead'],
    ['for longer than a year', NOW + 367 * DAY, 'at most a year'],
  ])('is not shelved %s', async (_, until, detail) => {
    const { ask, sent, address } = await fleet();
    expect(await ask('PUT', `${address}/shelving`, { until: formatInstant(until) })).toMatchObject({
      status: 400,
      body: { errors: [{ pointer: '#/until', detail: expect.stringContaining(detail) }] },
    });
    expect(sent.ingest).toEqual([]);
  });

  it('that was shelved is so no longer once the time is over', async () => {
    const { ask, state, address, clock } = await fleet();
    await state('PUT', `${address}/shelving`, { until: formatInstant(NOW + DAY) });
    clock.now = NOW + DAY - 1;
    expect((await ask('GET', address)).body).toMatchObject({ state: 'shelved' });
    clock.now += 1;
    expect((await ask('GET', address)).body).toMatchObject({ state: 'unacknowledged', shelved: null });
  });

  it('that is over goes back to normal when it is acknowledged, however long ago it was', async () => {
    const { ask, state, store, address, clock } = await fleet();
    await state('POST', '/v1/units/u-19/visits/record', { technician: 't', findings: [], work: [] });
    const ref = { companyId: COMPANY, unitId: 'u-19' };
    const { version } = await store.unit(ref, { fresh: true });
    const [alertId = ''] = address.split('/').slice(-1);
    const stored = await store.alert(ref, alertId);
    if (!stored) throw new Error('there is no alert');
    // Over for a year: nothing of it is in the head any more.
    await store.putAlert(ref, version, alertId, {
      ...stored.alert,
      clearedAt: formatInstant(NOW - 365 * DAY),
    });
    clock.now += 60_000;
    expect((await ask('GET', address)).body).toMatchObject({ state: 'returned' });
    await state('PUT', `${address}/acknowledgement`);
    expect((await store.alert(ref, alertId))?.acknowledged).not.toBeNull();
  });

  it('shows what it explains as suppressed', async () => {
    const { ask, store, address } = await fleet();
    const ref = { companyId: COMPANY, unitId: 'u-19' };
    const [alertId = ''] = address.split('/').slice(-1);
    const stored = await store.alert(ref, alertId);
    if (!stored) throw new Error('there is no alert');
    const since = formatInstant(NOW - DAY);
    const evidence = { ...stored.alert.evidence, consequences: [{ kind: 'overrun', since }] };
    await store.putAlert(ref, 1, alertId, { ...stored.alert, evidence });
    expect((await ask('GET', address)).body.consequences).toEqual([
      { kind: 'overrun', since, state: 'suppressed' },
    ]);
    const ended = { ...stored.alert.evidence, endedBy: 'suppressed' };
    await store.putAlert(ref, 1, alertId, { ...stored.alert, clearedAt: since, evidence: ended });
    expect((await ask('GET', address)).body).toMatchObject({ state: 'suppressed', consequences: [] });
  });
});

describe('a unit out of service', () => {
  const PATH = '/v1/units/u-19/out-of-service';

  it('ends its alerts and shows by whom and until when; they go on where it is back soon', async () => {
    const { ask, state, address, key, clock } = await fleet();
    const name = key.slice(0, key.lastIndexOf('.'));
    expect((await ask('GET', PATH)).body).toEqual({ outOfService: null });
    const at = formatInstant(clock.now);
    const until = formatInstant(NOW + 3 * DAY);
    await state('PUT', PATH, { until, by: 'Dana Reyes' });
    expect((await ask('GET', PATH)).body).toEqual({
      outOfService: { by: `Dana Reyes (${name})`, at, until },
    });
    expect((await ask('GET', address)).body).toMatchObject({ state: 'out-of-service', clearedAt: at });
    expect((await ask('GET', '/v1/units/u-19')).body.alerts).toEqual([]);
    clock.now = NOW + DAY;
    await state('DELETE', PATH);
    expect((await ask('GET', PATH)).body).toEqual({ outOfService: null });
    expect((await ask('GET', address)).body).toMatchObject({ state: 'unacknowledged', clearedAt: null });
  });

  it('is in service again when the time is over, and is put out of it neither until now nor by a stranger', async () => {
    const { ask, state, clock, sent } = await fleet();
    await state('PUT', PATH, { until: formatInstant(NOW + DAY) });
    clock.now = NOW + DAY;
    expect((await ask('GET', PATH)).body).toEqual({ outOfService: null });
    expect(await ask('PUT', PATH, { until: formatInstant(clock.now) })).toMatchObject({
      status: 400,
      body: { errors: [{ pointer: '#/until', detail: 'must lie ahead' }] },
    });
    expect((await ask('PUT', '/v1/units/u-20/out-of-service', {})).status).toBe(404);
    expect(sent.ingest).toEqual([]);
  });
});

describe('a backup', () => {
  it('gives a new service what people did, too', async () => {
    const old = await fleet();
    await old.state('PUT', `${old.address}/acknowledgement`, { by: 'Dana Reyes' });
    await old.state('PUT', `${old.address}/shelving`, { until: formatInstant(NOW + 30 * DAY) });
    await old.state('PUT', '/v1/units/u-17/out-of-service', { until: formatInstant(NOW + 9 * DAY) });
    const restored = await serviceOf();
    restored.clock.now = old.clock.now;
    const type = 'application/x-ndjson';
    for (const [method, path, from] of [
      ['PUT', '/v1/units', '/v1/backup/units.ndjson'],
      ['POST', '/v1/events', '/v1/backup/events.ndjson'],
    ] as const) {
      const { text: body } = await old.ask('GET', from);
      expect(
        (
          await restored.app.request(path, {
            method,
            body,
            headers: { authorization: `Bearer ${restored.key}`, 'content-type': type },
          })
        ).ok,
      ).toBe(true);
    }
    await restored.settle();
    const seen = async ({ ask }: typeof restored) => [
      (await ask('GET', '/v1/units/u-19/alerts')).body,
      (await ask('GET', '/v1/units/u-17/out-of-service')).body,
    ];
    const before = await seen(old);
    expect(JSON.stringify(before)).toContain('Dana Reyes');
    expect(await seen(restored)).toEqual(before);
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
    expect((await ask('DELETE', '/v1/units/u-19/credential')).status).toBe(204);
  });
});
