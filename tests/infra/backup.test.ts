import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { startService } from '../../infra/local/service.ts';
import { noLog } from '../support/pipeline.ts';
import { event, lines, records } from '../support/smallFleet.ts';

const COMPANY = 'fenwick-water';

/** A service with nothing in it but the company. */
async function emptyService() {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-backup-'));
  const service = await startService({
    ...{ dataDir: folder, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: noLog },
  });
  const call = async (
    key: string,
    method: string,
    path: string,
    body?: string,
    type = 'application/json',
  ) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': type };
    const response = await fetch(service.url + path, {
      method,
      headers,
      ...(body !== undefined && { body }),
    });
    expect(response.ok, `${method} ${path}: ${response.status}`).toBe(true);
    return response.text();
  };
  const company = JSON.stringify({ companyId: COMPANY, name: 'Fenwick' });
  const { key } = JSON.parse(await call(service.operatorKey, 'POST', '/v1/companies', company));
  return {
    store: service.ports.store,
    get: (path: string) => call(key, 'GET', path),
    async send(units: string, events: string) {
      await call(key, 'PUT', '/v1/units', units, 'application/x-ndjson');
      await call(key, 'POST', '/v1/events', events, 'application/x-ndjson');
      const left = async () => JSON.parse(await call(key, 'GET', '/health')).queues;
      const empty = { messages: 0, dead: 0 };
      await expect
        .poll(left, { timeout: 60_000, interval: 100 })
        .toEqual({ ingest: empty, assess: empty, notify: empty });
    },
    async stop() {
      await service.stop();
      await rm(folder, { recursive: true });
    },
  };
}

test('what is exported of a company and imported elsewhere gives the same states, alerts and accounts', async () => {
  const from = await emptyService();
  const units = records.map((record) => JSON.stringify(record)).join('\n');
  // Beside the story: one event that comes without its receipt, a copy of another, and one that contradicts it.
  const [first = ''] = lines;
  const others = [
    event({ id: 'unreceipted', recordedtime: undefined }),
    first.replace(/"recordedtime":"[^"]*"/, `"recordedtime":"2026-05-01T00:00:00.000Z"`),
    event({ id: JSON.parse(first).id, recordedtime: '2026-05-02T00:00:00.000Z' }),
  ];
  await from.send(units, [...lines, ...others].join('\n'));

  const to = await emptyService();
  const exported = await from.get('/v1/backup/events.ndjson');
  await to.send(await from.get('/v1/backup/units.ndjson'), exported);

  expect(exported.trim().split('\n')).toHaveLength(lines.length + others.length);
  const sorted = (text: string) => text.trim().split('\n').sort();
  expect(sorted(await to.get('/v1/backup/events.ndjson'))).toEqual(sorted(exported));
  for (const { unitId } of records) {
    const ref = { companyId: COMPANY, unitId };
    const [one, other] = await Promise.all(
      [from, to].map(async ({ store }) => {
        const { stored } = await store.unit(ref, { fresh: true });
        const { state, open, knownUntil, place, firstDate } = stored?.head ?? {};
        const alerts = await store.alertsOf(ref);
        return { state, open, knownUntil, place, firstDate, alerts, months: await store.months(ref) };
      }),
    );
    expect(one?.state).toBeDefined();
    expect(other).toEqual(one);
  }
  expect(await to.get('/v1/alerts')).toBe(await from.get('/v1/alerts'));
  expect(JSON.parse(await to.get('/v1/alerts')).items.length).toBeGreaterThan(0);
  expect(await to.get('/v1/quarantine')).toBe(await from.get('/v1/quarantine'));
  const salt = (text: string) => text.split('\r\n').filter((row) => row.includes(',2026-03,'));
  expect(salt(await to.get('/v1/salt.csv'))).toEqual(salt(await from.get('/v1/salt.csv')));
  expect(salt(await to.get('/v1/salt.csv')).length).toBe(2);
  await from.stop();
  await to.stop();
});
