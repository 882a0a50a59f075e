/**
 * What the live service costs: capacity units a unit-day by operation, early and late in a unit's history; and how many
 * events a second it takes from a meter's publish to the unit's state, beside bare batch writes into the same table.
 *
 * usage: node bench/run.js live [--units 6] [--days 3000] [--faults 0.1] [--meters 40] [--events 2000]
 */
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { connectAsync } from 'mqtt';
import { sweep } from '../functions/sweep.ts';
import { startService } from '../infra/local/service.ts';
import { openTable } from '../infra/local/table.ts';
import { planFleet } from '../lib/simulation/plan.ts';
import { type SimulatedUnit, simulateUnit } from '../lib/simulation/simulate.ts';
import { factKey } from '../lib/store/factKey.ts';
import type { WireEvent } from '../shared/events.ts';
import { parseInstant } from '../shared/time/instant.ts';
import { noLog, Pipeline } from '../tests/support/pipeline.ts';

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '6' },
    days: { type: 'string', default: '3000' },
    /** Share of the units that have a fault some day. */
    faults: { type: 'string', default: '0.1' },
    meters: { type: 'string', default: '40' },
    events: { type: 'string', default: '2000' },
  },
});
const DAY = 86_400_000;
/** Days over which capacity is counted. */
const WINDOW = 30;
const COMPANY = 'larkwater';
/** What is read and written for a company as a whole, however many units it has. */
const OF_COMPANY = new Set(['revision', 'company', 'rounds', 'records', 'putSwept']);

const folder = await mkdtemp(join(tmpdir(), 'brinebell-live-'));
await capacity(Number(values.units), Number(values.days));
await rate(Number(values.meters), Number(values.events));
await rm(folder, { recursive: true });

function fleet(units: number, days: number): SimulatedUnit[] {
  const start = Math.floor(Date.now() / DAY) - days - 2;
  const share = Number(values.faults) / 3;
  const faults = { 'meter-stalled': share, 'brine-not-drawn': share, 'capacity-setting': share };
  return planFleet({ units, days, start, seed: 7, faults }).map(simulateUnit);
}

function receivedOf(event: WireEvent): number {
  return parseInstant(event.recordedtime ?? event.time) ?? 0;
}

/** Feeds units' histories through the functions, a message at a time within the windows that are counted. */
async function capacity(units: number, days: number): Promise<void> {
  const spent = new Map<string, { read: number; write: number }>();
  const table = await openTable({
    folder: join(folder, 'capacity'),
    env: {},
    onFailure: (error) => console.error(error),
    onCapacity: (operation, { read, write }) => {
      const sum = spent.get(operation) ?? { read: 0, write: 0 };
      spent.set(operation, { read: sum.read + read, write: sum.write + write });
    },
  });
  let clock = 0;
  const pipeline = new Pipeline(
    table.store,
    () => 0.999,
    () => clock,
  );
  const simulated = fleet(units, days);
  await table.store.putCompany({ companyId: COMPANY, name: COMPANY, channels: [], rules: {} });
  await table.store.putRecords(
    COMPANY,
    simulated.map(({ record }) => record),
  );
  const events = simulated
    .flatMap(({ record, events }) => events.map((event) => ({ unitId: record.unitId, event })))
    .sort((a, b) => receivedOf(a.event) - receivedOf(b.event));
  const begin = receivedOf(events[0]?.event ?? fail());
  const windows = [WINDOW, days - WINDOW - 1].map((day) => ({ day, from: begin + day * DAY }));
  const sweepUnits = sweep(pipeline.ports);
  let swept = 0;
  for (const { day, from } of windows) {
    const to = from + WINDOW * DAY;
    const before = events.filter(({ event }) => receivedOf(event) < from && receivedOf(event) >= clock);
    for (const each of before) await receive(each);
    clock = from;
    await pipeline.drain();
    spent.clear();
    let facts = 0;
    for (const each of events.filter(({ event }) => receivedOf(event) >= from && receivedOf(event) < to)) {
      clock = receivedOf(each.event);
      if (clock - swept > 900_000) {
        await sweepUnits();
        swept = clock;
      }
      await receive(each);
      await pipeline.drain();
      facts += 1;
    }
    tell(day, facts, units * WINDOW);
    clock = to;
  }
  await table.close();

  async function receive({ unitId, event }: { unitId: string; event: WireEvent }) {
    const line = JSON.stringify(event);
    await pipeline.receive({ companyId: COMPANY, unitId, receivedAt: receivedOf(event), line });
  }

  function tell(day: number, facts: number, unitDays: number) {
    const rows = [...spent].sort(([, a], [, b]) => b.write + b.read - a.write - a.read);
    console.log(
      `\nAfter ${day} days of history, ${(facts / unitDays).toFixed(2)} events a unit-day, each by itself`,
    );
    print(
      'a unit-day',
      unitDays,
      rows.filter(([operation]) => !OF_COMPANY.has(operation)),
    );
    print(
      'a company-day',
      WINDOW,
      rows.filter(([operation]) => OF_COMPANY.has(operation)),
    );
  }
}

function print(per: string, days: number, rows: [string, { read: number; write: number }][]) {
  const line = (name: string, write: number, read: number) =>
    console.log(`  ${name.padEnd(28)} ${figure(write)} ${figure(read)}`);
  const figure = (units: number) => (units / days).toFixed(3).padStart(8);
  console.log(`  ${'capacity units '.concat(per).padEnd(28)}    write     read`);
  for (const [operation, { read, write }] of rows) line(operation, write, read);
  const sum = (kind: 'read' | 'write') => rows.reduce((total, [, each]) => total + each[kind], 0);
  line('all', sum('write'), sum('read'));
}

/** Publishes over real MQTT as fast as it is acknowledged, and waits until every unit is assessed. */
async function rate(meters: number, wanted: number): Promise<void> {
  const simulated = fleet(meters, Math.ceil(wanted / meters));
  const service = await startService({
    ...{ dataDir: join(folder, 'rate'), host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: noLog },
  });
  const call = async (key: string, method: string, path: string, body?: unknown) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json' };
    const init = { method, headers, ...(body !== undefined && { body: JSON.stringify(body) }) };
    const response = await fetch(service.url + path, init);
    if (!response.ok) throw new Error(`${method} ${path}: ${response.status}`);
    return JSON.parse(await response.text());
  };
  const { key } = await call(service.operatorKey, 'POST', '/v1/companies', {
    companyId: COMPANY,
    name: COMPANY,
  });
  await call(
    key,
    'PUT',
    '/v1/units',
    simulated.map(({ record }) => record),
  );
  const clients = await Promise.all(
    simulated.map(async ({ record }) => {
      const credential = await call(key, 'POST', `/v1/units/${record.unitId}/credential`);
      return connectAsync(service.mqttUrl, credential);
    }),
  );
  await settled();
  const began = performance.now();
  await Promise.all(
    simulated.map(async ({ record, events }, index) => {
      const topic = `units/${record.unitId}/events`;
      for (const event of events) {
        await clients[index]?.publishAsync(topic, JSON.stringify(event), { qos: 1 });
      }
    }),
  );
  const acknowledged = performance.now();
  await settled();
  const assessed = performance.now();
  const count = simulated.reduce((sum, { events }) => sum + events.length, 0);
  console.log(`\n${count} events of ${meters} meters over MQTT, events a second`);
  console.log(`  acknowledged            ${perSecond(count, acknowledged - began)}`);
  console.log(`  in their units' states  ${perSecond(count, assessed - began)}`);

  const facts = simulated.map(({ record, events }) => ({
    unit: { companyId: 'beside', unitId: record.unitId },
    facts: events.map((event) => JSON.stringify(event)).map((line) => ({ line, key: factKey(line).key })),
  }));
  const start = performance.now();
  for (const each of facts) await service.ports.store.putFacts(each.unit, each.facts);
  console.log(`  bare batch writes       ${perSecond(count, performance.now() - start)}`);
  await Promise.all(clients.map((client) => client.endAsync()));
  await service.stop();

  async function settled() {
    for (;;) {
      const { queues } = JSON.parse(await (await fetch(`${service.url}/health`)).text());
      const left = Object.values<{ messages: number }>(queues).reduce(
        (sum, { messages }) => sum + messages,
        0,
      );
      if (left === 0) return;
      await new Promise((resolve) => setTimeout(resolve, 50));
    }
  }
}

function perSecond(count: number, milliseconds: number): string {
  return Math.round((count / milliseconds) * 1000)
    .toString()
    .padStart(6);
}

function fail(): never {
  throw new Error('the fleet has no events');
}
