/**
 * The restore drill: fills a service, takes both kinds of backup, destroys its data folder, restores from each into a
 * fresh one, and tells what came back and how long each step took. Nothing is told to anybody and nothing leaves the machine.
 *
 * usage: node bench/run.js restoreDrill [--units 20] [--days 120]
 */
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { compared, pictureOf } from './drill/picture.ts';
import { seed } from './drill/seeded.ts';
import { Station } from './drill/station.ts';

const { values } = parseArgs({
  options: { units: { type: 'string', default: '20' }, days: { type: 'string', default: '120' } },
});
const folder = await mkdtemp(join(tmpdir(), 'brinebell-drill-'));
const [data, copy, fresh] = ['data', 'copy', 'fresh'].map((name) => join(folder, name));
if (!data || !copy || !fresh) throw new Error('no folders');

const steps: [step: string, seconds: number][] = [];
async function timed<Result>(step: string, work: () => Promise<Result>): Promise<Result> {
  const from = performance.now();
  const result = await work();
  steps.push([step, (performance.now() - from) / 1000]);
  return result;
}

/** Whether a key opens anything. */
async function opens(station: Station, key: string, path: string, method = 'GET'): Promise<boolean> {
  const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/x-ndjson' };
  const response = await fetch(station.service.url + path, {
    method,
    headers,
    ...(method === 'POST' && { body: '' }),
  });
  return response.ok;
}

try {
  const first = await timed('start an empty service', () => Station.start(data));
  const seeded = await timed(`fill it: ${values.units} units, ${values.days} days`, () =>
    seed(first, Number(values.units), Number(values.days)),
  );
  await first.swept();
  const [companyId = ''] = (await first.service.ports.store.companies()).map((each) => each.companyId);
  const before = await pictureOf(first, companyId, seeded);
  const { key } = first;
  const { operatorKey } = first.service;

  const [units, events, rest] = await timed('back up by the API', () =>
    Promise.all(['units', 'events', 'rest'].map((name) => first.call('GET', `/v1/backup/${name}.ndjson`))),
  );
  await timed('stop it', () => first.service.stop());
  await timed('copy the data folder', () => cp(data, copy, { recursive: true }));
  await timed('destroy the data folder', () => rm(data, { recursive: true }));

  await timed('A: put the copy in its place', () => cp(copy, data, { recursive: true }));
  const a = await timed('A: start', () => Station.start(data));
  a.key = key;
  await a.swept();
  const fromCopy = compared(before, await pictureOf(a, companyId, seeded));
  const meterKey = `${seeded.meter.username}.${seeded.meter.password}`;
  const doors = async (station: Station) => ({
    'the operator’s key': await opens(station, operatorKey, '/v1/companies'),
    'the company’s key': await opens(station, key, '/v1/me'),
    'a meter’s password': await opens(station, meterKey, '/v1/events', 'POST'),
  });
  const doorsA = await doors(a);
  await a.service.stop();

  const b = await timed('B: start an empty service', () => Station.start(fresh));
  await timed('B: make the company', () => b.makeCompany(companyId));
  const linesOf = (text = '') => text.split('\n').filter((line) => line !== '');
  await timed('B: PUT units', () => b.sendAll('PUT', '/v1/units', linesOf(units)));
  const restored = await timed('B: PUT the rest', () =>
    b.sendAll('PUT', '/v1/backup/rest.ndjson', linesOf(rest)),
  );
  await timed('B: POST events', () => b.sendAll('POST', '/v1/events', linesOf(events)));
  await timed('B: until all are looked at', () => b.settled());
  await b.swept();
  const byApi = compared(before, await pictureOf(b, companyId, seeded));
  const doorsB = await doors(b);
  const metrics = await b.call('GET', '/metrics');
  await b.service.stop();

  console.log(
    `${new Date().toISOString().slice(0, 10)}: ${values.units} units, ${values.days} days, ${seeded.lines} lines sent in`,
  );
  console.log(
    `by the API: ${[units, events, rest].map((text = '') => `${Buffer.byteLength(text)} bytes`).join(', ')} (units, events, rest)`,
  );
  console.table(steps.map(([step, seconds]) => ({ step, seconds: Number(seconds.toFixed(2)) })));
  console.table(
    fromCopy.map(({ kind, had, back }, index) => ({
      kind,
      had,
      'A: copy': back,
      'B: API': byApi[index]?.back,
    })),
  );
  console.table(
    Object.keys(doorsA).map((door) => ({
      door,
      'A: copy': doorsA[door as keyof typeof doorsA],
      'B: API': doorsB[door as keyof typeof doorsB],
    })),
  );
  console.log(`PUT of the rest answered ${restored.join(' ')}`);
  const sent = (name: string) => sumOf(metrics, `brinebell_${name}_total`);
  console.log(
    `B: ${sent('alert_transitions')} changes of alerts of the past came up; ${sent('notices_sent')} notices were sent`,
  );
} finally {
  await rm(folder, { recursive: true, force: true });
}

function sumOf(metrics: string, name: string): number {
  const rows = metrics
    .split('\n')
    .filter((row) => row.startsWith(name) && /^[ {]/.test(row.slice(name.length)));
  return rows.reduce((sum, row) => sum + Number(row.split(' ').at(-1)), 0);
}
