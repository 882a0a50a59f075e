import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectAsync } from 'mqtt';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { type Service, startService } from '../../../infra/local/service.ts';
import { formatInstant } from '../../../shared/time/instant.ts';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { zoneNamed } from '../../../shared/time/zone.ts';
import { unitRecord } from '../../support/fleet.ts';

const quiet = {
  debug: () => {},
  info: () => {},
  warn: () => {},
  error: (...what: unknown[]) => console.error(...what),
};

let dataDir: string;
const services: Service[] = [];

beforeEach(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'brinebell-service-'));
});

afterEach(async () => {
  for (const service of services.splice(0)) await service.stop();
  await rm(dataDir, { recursive: true });
});

async function start(): Promise<Service> {
  const service = await startService({
    dataDir,
    host: '127.0.0.1',
    port: 0,
    mqttPort: 0,
    env: {},
    log: quiet,
  });
  services.push(service);
  return service;
}

async function call(service: Service, key: string, method: string, path: string, body?: unknown) {
  const response = await fetch(service.url + path, {
    method,
    headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
    ...(body !== undefined && { body: JSON.stringify(body) }),
  });
  expect(response.ok, `${method} ${path}: ${response.status}`).toBe(true);
  return JSON.parse(await response.text());
}

const RECORD = unitRecord({ unitId: 'u-1', timeZone: 'America/Chicago' });

function flowDay(daysAgo: number) {
  const zone = zoneNamed(RECORD.timeZone);
  if (!zone) throw new Error('this runtime has no time zones');
  const date = zone.dateAt(Date.now()) - daysAgo;
  return JSON.stringify({
    specversion: '1.0',
    id: `flow-${date}`,
    source: `/companies/${RECORD.companyId}/units/${RECORD.unitId}`,
    type: 'brinebell.flow-day.v1',
    time: formatInstant(zone.startOf(date + 1)),
    data: { date: formatLocalDate(date), volume: { value: 180, unit: '[gal_us]' } },
  });
}

/** Makes a company with one unit; gives its key and the credential of the unit's meter. */
async function company(service: Service) {
  const { companyId } = RECORD;
  const made = await call(service, service.operatorKey, 'POST', '/v1/companies', {
    companyId,
    name: 'Fenwick',
  });
  await call(service, made.key, 'PUT', '/v1/units', [RECORD]);
  const credential = await call(service, made.key, 'POST', `/v1/units/${RECORD.unitId}/credential`);
  return { key: made.key as string, credential };
}

test('an event goes from a meter to what is read of its unit, and is there after a restart', async () => {
  const first = await start();
  const { key, credential } = await company(first);
  const meter = await connectAsync(first.mqttUrl, { ...credential, reconnectPeriod: 0 });
  for (const daysAgo of [3, 2, 1]) await meter.publishAsync('units/u-1/events', flowDay(daysAgo), { qos: 1 });
  await meter.publishAsync('units/u-1/events', 'no event', { qos: 1 });
  await meter.endAsync();

  const yesterday = JSON.parse(flowDay(1)).data.date;
  const unit = () => call(first, key, 'GET', '/v1/units/u-1');
  await expect.poll(async () => (await unit()).lastReported, { timeout: 20_000 }).toBe(yesterday);
  const { items } = await call(first, key, 'GET', '/v1/quarantine');
  expect(items).toMatchObject([{ reason: 'not-json', raw: 'no event' }]);
  const before = await unit();
  await first.stop();

  const second = await start();
  expect(second.operatorKey).toBe(first.operatorKey);
  expect(await call(second, key, 'GET', '/v1/units/u-1')).toEqual(before);
});

test('what is measured can be read as OpenMetrics', async () => {
  const service = await start();
  const { key } = await company(service);
  const response = await fetch(`${service.url}/v1/events`, {
    method: 'POST',
    headers: { authorization: `Bearer ${key}`, 'content-type': 'application/x-ndjson' },
    body: `${flowDay(1)}\nnot an event\n`,
  });
  expect(response.status).toBe(202);
  const metrics = async () => (await fetch(`${service.url}/metrics`)).text();
  // Once as its record came, once as its event did.
  await expect.poll(metrics, { timeout: 20_000 }).toContain('brinebell_units_assessed_total 2\n');
  await expect.poll(metrics).toContain('brinebell_queue_messages{queue="assess"} 0\n');
  const text = await metrics();
  expect(text).toContain('brinebell_events_accepted_total 1\n');
  expect(text).toContain('brinebell_events_quarantined_total{reason="not-json"} 1\n');
  expect(text).toContain('brinebell_queue_messages{queue="ingest"} 0\n');
  expect(text).toMatch(/brinebell_table_units_total\{operation="putFacts",kind="write"\} [1-9]/);
  expect(text.endsWith('# EOF\n')).toBe(true);
  const health = await (await fetch(`${service.url}/health`)).json();
  expect(health).toMatchObject({ ok: true, queues: { notify: { messages: 0, dead: 0 } }, meters: 0 });
});

test('a data folder or a port that is in use is told of, and nothing stays open', async () => {
  const first = await start();
  await expect(start()).rejects.toMatchObject({ code: 'folder-in-use' });
  const elsewhere = { host: '127.0.0.1', mqttPort: 0, env: {}, log: quiet, dataDir: join(dataDir, 'other') };
  const port = Number(new URL(first.url).port);
  await expect(startService({ ...elsewhere, port })).rejects.toMatchObject({ code: 'port-in-use' });
  const mqttPort = Number(new URL(first.mqttUrl).port);
  await expect(startService({ ...elsewhere, port: 0, mqttPort })).rejects.toMatchObject({
    code: 'port-in-use',
  });
  services.push(await startService({ ...elsewhere, port: 0 }));
});

test('only its owner can read the operator’s key', async () => {
  await start();
  const { mode } = await stat(join(dataDir, 'operator-key'));
  expect((mode & 0o777).toString(8)).toBe('600');
});

test('only its owner can look into a data folder that the service makes', async () => {
  const made = join(dataDir, 'made');
  services.push(
    await startService({
      ...{ dataDir: made, host: '127.0.0.1', port: 0, mqttPort: 0 },
      env: {},
      log: quiet,
    }),
  );
  const { mode } = await stat(made);
  expect((mode & 0o777).toString(8)).toBe('700');
});
