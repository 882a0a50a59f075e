/**
 * The restore drill: fills a service, takes both kinds of backup, destroys its data folder, restores from each into a
 * fresh one, and tells what came back, how long each step took, and how many notices went out meanwhile. Nothing leaves
 * the machine.
 *
 * usage: node bench/run.js restoreDrill [--units 20] [--days 120] [--careless: set the channels before the events]
 */
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { compared, pictureOf } from './drill/picture.ts';
import { startReceiver } from './drill/receiver.ts';
import { type Seeded, seed } from './drill/seeded.ts';
import { Station } from './drill/station.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '20' },
    days: { type: 'string', default: '120' },
    careless: { type: 'boolean', default: false },
  },
});
const [units, days] = [Number(values.units), Number(values.days)];
const BACKUPS = ['units', 'rest', 'events'] as const;

const receiver = await startReceiver();
const folder = await mkdtemp(join(tmpdir(), 'brinebell-drill-'));
const data = join(folder, 'data');
const steps: { step: string; seconds: number }[] = [];
try {
  await drill();
} finally {
  await receiver.stop();
  await rm(folder, { recursive: true, force: true });
}

async function drill(): Promise<void> {
  const first = await timed('start an empty service', () => Station.start(data));
  const seeded = await timed(`fill it: ${units} units, ${days} days`, () =>
    seed(first, { units, days, channel: receiver.channel }),
  );
  await first.swept();
  // A notice of a silent unit waits for others of its region.
  await timed('until all notices are out', () => first.settled({ notices: true }));
  const lost = {
    before: await pictureOf(first, seeded),
    key: first.key,
    operatorKey: first.service.operatorKey,
  };
  const backup = await timed('back up by the API', () => backedUp(first));
  await timed('stop it', () => first.service.stop());
  const copy = join(folder, 'copy');
  await timed('copy the data folder', () => cp(data, copy, { recursive: true }));
  await timed('destroy the data folder', () => rm(data, { recursive: true }));

  const toldA = receiver.told();
  await timed('A: put the copy in its place', () => cp(copy, data, { recursive: true }));
  const a = await timed('A: start', () => Station.start(data));
  a.key = lost.key;
  const fromCopy = await held(a, lost, seeded);
  const toldB = receiver.told();
  const b = await fromBackup(backup, seeded);
  const fromApi = await held(b, lost, seeded);

  console.log(
    `${new Date().toISOString().slice(0, 10)}: ${units} units, ${days} days, ${seeded.lines} lines sent in`,
  );
  for (const name of BACKUPS) console.log(`${name}.ndjson: ${Buffer.byteLength(backup[name])} bytes`);
  console.table(steps);
  console.table(fromCopy.map(({ kind, had, back }, at) => ({ kind, had, A: back, B: fromApi[at]?.back })));
  console.log(
    `notices that went out: A ${toldB - toldA}, B ${receiver.told() - toldB}${values.careless ? ' (careless)' : ''}`,
  );
}

async function backedUp(station: Station): Promise<Record<(typeof BACKUPS)[number], string>> {
  const [ofUnits = '', rest = '', events = ''] = await Promise.all(
    BACKUPS.map((name) => station.call('GET', `/v1/backup/${name}.ndjson`)),
  );
  return { units: ofUnits, rest, events };
}

/** The way of docs/runbook.md, "Restore". */
async function fromBackup(
  backup: Awaited<ReturnType<typeof backedUp>>,
  { companyId }: Seeded,
): Promise<Station> {
  const linesOf = (text: string) => text.split('\n').filter((line) => line !== '');
  const station = await timed('B: start an empty service', () => Station.start(join(folder, 'fresh')));
  await timed('B: make the company', () => station.makeCompany(companyId));
  const name = 'Drill Water';
  const rules = { overrun: { raise: 0.97 } };
  const setChannels = () =>
    station.call('PUT', '/v1/company', JSON.stringify({ name, rules, channels: [receiver.channel] }));
  if (values.careless) await setChannels();
  await timed('B: PUT units', () => station.sendAll('PUT', '/v1/units', linesOf(backup.units)));
  await timed('B: PUT the rest', () =>
    station.sendAll('PUT', '/v1/backup/rest.ndjson', linesOf(backup.rest)),
  );
  await timed('B: POST events', () => station.sendAll('POST', '/v1/events', linesOf(backup.events)));
  await timed('B: until all are looked at', () => station.settled());
  await timed('B: until all notices are out', () => station.settled({ notices: true }));
  await timed('B: PUT the channels', setChannels);
  return station;
}

/** What of a service is as it was, and which keys still open something; the service is stopped. */
async function held(
  station: Station,
  {
    before,
    key,
    operatorKey,
  }: { before: Awaited<ReturnType<typeof pictureOf>>; key: string; operatorKey: string },
  seeded: Seeded,
) {
  await station.swept();
  const { username, password } = seeded.meter;
  const doors = {
    'the operator’s key opens': await station.opens(operatorKey, 'GET', '/v1/companies'),
    'the company’s key opens': await station.opens(key, 'GET', '/v1/me'),
    'a meter’s password opens': await station.opens(`${username}.${password}`, 'POST', '/v1/events'),
  };
  await station.settled({ notices: true });
  const kinds = compared(before, await pictureOf(station, seeded));
  await station.service.stop();
  return [
    ...kinds,
    ...Object.entries(doors).map(([kind, isOpen]) => ({ kind, had: 1, back: isOpen ? 1 : 0 })),
  ];
}

async function timed<Result>(step: string, work: () => Promise<Result>): Promise<Result> {
  const from = performance.now();
  const result = await work();
  steps.push({ step, seconds: Number(((performance.now() - from) / 1000).toFixed(2)) });
  return result;
}
