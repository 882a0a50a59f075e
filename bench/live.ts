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
import { startService } from '../infra/local/service.ts';
import { openTable } from '../infra/local/table.ts';
import { factKey } from '../lib/store/factKey.ts';
import { noLog } from '../tests/support/pipeline.ts';
import { allOf, type ByOperation, measureUnitDay, type Spent, simulatedFleet } from './scale/unitDay.ts';

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

const folder = await mkdtemp(join(tmpdir(), 'brinebell-live-'));
await capacity(Number(values.units), Number(values.days));
await rate(Number(values.meters), Number(values.events));
await rm(folder, { recursive: true });

function startOf(days: number): number {
  return Math.floor(Date.now() / DAY) - days - 2;
}

/** Counts what the table is asked for, early and late in the units' histories. */
async function capacity(units: number, days: number): Promise<void> {
  const table = await openTable({
    folder: join(folder, 'capacity'),
    env: {},
    onFailure: (error) => console.error(error),
    onCapacity: () => {},
  });
  const measured = await measureUnitDay({
    table,
    units,
    start: startOf(days),
    after: [WINDOW, days - WINDOW - 1],
    windowDays: WINDOW,
    faults: Number(values.faults),
    warm: true,
  });
  await table.close();
  for (const { after, events, units: ofUnit, company } of measured) {
    console.log(`\nAfter ${after} days of history, ${events.toFixed(2)} events a unit-day, each by itself`);
    print('a unit-day', ofUnit);
    print('a company-day', company);
  }
}

function print(per: string, operations: ByOperation) {
  const line = (name: string, { write, read, calls }: Spent) =>
    console.log(`  ${name.padEnd(28)} ${figure(write)} ${figure(read)} ${figure(calls)}`);
  const figure = (units: number) => units.toFixed(3).padStart(8);
  console.log(`  ${'capacity units '.concat(per).padEnd(28)}    write     read    calls`);
  for (const [operation, each] of Object.entries(operations)) line(operation, each);
  line('all', allOf(operations));
}

/** Publishes over real MQTT as fast as it is acknowledged, and waits until every unit is assessed. */
async function rate(meters: number, wanted: number): Promise<void> {
  const days = Math.ceil(wanted / meters);
  const faults = Number(values.faults);
  const simulated = simulatedFleet({ units: meters, days, start: startOf(days), faults });
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
