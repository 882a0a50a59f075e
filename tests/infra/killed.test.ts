import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { createServer } from 'node:http';
import { type AddressInfo, createServer as createSocket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { connect, type MqttClient } from 'mqtt';
import { expect, onTestFinished, test } from 'vitest';
import { openTable } from '../../infra/local/table.ts';
import { Chance } from '../../lib/simulation/chance.ts';
import { planFleet } from '../../lib/simulation/plan.ts';
import { simulateUnit } from '../../lib/simulation/simulate.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { alertsOf, lastHeard, replayed } from '../support/replayed.ts';

const KILLS = 20;
const UNITS = 6;
const DAYS = 60;
const COMPANY = 'larkwater';
const service = fileURLToPath(new URL('../../dist/service.js', import.meta.url));

/** The same fleet and the same pauses for the same seed; the machine decides what a kill falls into. */
const seed = Number(process.env.BRINEBELL_SEED ?? Date.now() % 1e6);
const chance = new Chance(seed, 5);

/** The service as a process of its own, which can be killed and started again where it was. */
class Process {
  readonly url: string;
  readonly mqttUrl: string;
  readonly #arguments: string[];
  #child: ChildProcess | undefined;

  constructor(folder: string, port: number, mqttPort: number) {
    this.url = `http://127.0.0.1:${port}`;
    this.mqttUrl = `mqtt://127.0.0.1:${mqttPort}`;
    this.#arguments = [service, '--data', folder, '--port', `${port}`, '--mqtt-port', `${mqttPort}`];
  }

  async start(): Promise<void> {
    const child = spawn(process.execPath, this.#arguments, { stdio: 'ignore' });
    this.#child = child;
    while (!(await fetch(`${this.url}/health`).catch(() => undefined))?.ok) {
      if (child.exitCode !== null) throw new Error(`the service has ended with ${child.exitCode}`);
      await pause(30);
    }
  }

  async end(signal: 'SIGKILL' | 'SIGTERM'): Promise<void> {
    const child = this.#child;
    if (!child) return;
    const ended = once(child, 'exit');
    child.kill(signal);
    await ended;
  }

  /** Leaves nothing behind, wherever the test has stopped. */
  abandon(): void {
    this.#child?.kill('SIGKILL');
  }
}

async function freePort(): Promise<number> {
  const server = createSocket().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  return port;
}

/** Calls until it is answered well: the service may be dead. */
async function insist(url: string, key: string, method: string, body?: string, type = 'application/json') {
  for (;;) {
    const headers = { authorization: `Bearer ${key}`, 'content-type': type };
    const response = await fetch(url, { method, headers, ...(body !== undefined && { body }) }).catch(
      () => undefined,
    );
    const text = await response?.text().catch(() => undefined);
    if (response?.ok && text !== undefined) return text;
    if (response && response.status < 500) throw new Error(`${method} ${url}: ${response.status} ${text}`);
    await pause(50);
  }
}

/** Publishes until it is acknowledged: a connection that breaks off ends what waits on it. */
async function insistOnPublishing(meter: MqttClient, topic: string, line: string) {
  for (;;) {
    try {
      return await meter.publishAsync(topic, line, { qos: 1 });
    } catch {
      await pause(30);
    }
  }
}

/** The notices that a webhook has taken: by id, what they said. */
async function startReceiver() {
  const notices: {
    id: string;
    data: { key: string; unitId: string; alertId: string; sequence: number; change: never; alert: never };
  }[] = [];
  const server = createServer((request, response) => {
    const chunks: Buffer[] = [];
    request.on('data', (chunk: Buffer) => chunks.push(chunk));
    request.on('end', () => {
      const { data } = JSON.parse(Buffer.concat(chunks).toString());
      notices.push({ id: String(request.headers['webhook-id']), data });
      response.end();
    });
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  return { notices, url: `http://127.0.0.1:${port}/hook`, close: () => server.close() };
}

test(`killed ${KILLS} times under load, the service loses nothing and ends as a replay does`, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-killed-'));
  const receiver = await startReceiver();
  const running = new Process(folder, await freePort(), await freePort());
  onTestFinished(async () => {
    running.abandon();
    receiver.close();
    await rm(folder, { recursive: true, force: true, maxRetries: 5 });
  });
  const start = Math.floor(Date.now() / 86_400_000) - DAYS - 3;
  const fleet = planFleet({
    ...{ units: UNITS, days: DAYS, start, seed },
    faults: { 'meter-stalled': 0.3, 'brine-not-drawn': 0.3, 'capacity-setting': 0.2 },
  }).map(simulateUnit);

  await running.start();
  const operator = (await readFile(join(folder, 'operator-key'), 'utf8')).trim();
  const call = (key: string, method: string, path: string, body?: object, type?: string) =>
    insist(running.url + path, key, method, body && JSON.stringify(body), type);
  const made = await call(operator, 'POST', '/v1/companies', { companyId: COMPANY, name: 'Larkwater' });
  const { key } = JSON.parse(made);
  const channels = [{ type: 'webhook', url: receiver.url, secret: 'a secret of thirty-two letters..' }];
  await call(key, 'PUT', '/v1/company', { name: 'Larkwater', channels, rules: {} });
  await call(
    key,
    'PUT',
    '/v1/units',
    fleet.map(({ record }) => record),
  );

  /** Ids of the events of each unit that were acknowledged. */
  const acknowledged = new Map(fleet.map(({ record }) => [record.unitId, new Set<string>()]));
  let publishing = fleet.length;
  const publishers = fleet.map(async ({ record, events }, index) => {
    const { unitId } = record;
    // Some say when they were received before, others leave it to the service.
    const lines = events.map((event) =>
      JSON.stringify(index % 2 === 0 ? event : { ...event, recordedtime: undefined }),
    );
    const ids = events.map(({ id }) => id);
    const acknowledge = (id: string | undefined) => id && acknowledged.get(unitId)?.add(id);
    if (index < 2) {
      for (let from = 0; from < lines.length; from += 7) {
        const body = lines.slice(from, from + 7).join('\n');
        await insist(`${running.url}/v1/events`, key, 'POST', body, 'application/x-ndjson');
        for (const id of ids.slice(from, from + 7)) acknowledge(id);
        await pause(chance.whole(0, 3000));
      }
    } else {
      const credential = JSON.parse(await call(key, 'POST', `/v1/units/${unitId}/credential`));
      const meter = connect(running.mqttUrl, { ...credential, reconnectPeriod: 40 });
      meter.on('error', () => {});
      for (const [place, line] of lines.entries()) {
        await insistOnPublishing(meter, `units/${unitId}/events`, line);
        acknowledge(ids[place]);
        await pause(chance.whole(0, 430));
      }
      await meter.endAsync();
    }
    publishing -= 1;
  });

  let killsUnderLoad = 0;
  for (let kill = 0; kill < KILLS; kill++) {
    await pause(chance.whole(50, 1200));
    if (publishing > 0) killsUnderLoad += 1;
    await running.end('SIGKILL');
    await running.start();
  }
  await Promise.all(publishers);
  const idle = async () => {
    const { queues } = JSON.parse(await insist(`${running.url}/health`, key, 'GET'));
    // The archive gathers for minutes; of it only that nothing is parked.
    return { ...queues, archive: queues.archive.dead };
  };
  const empty = { messages: 0, dead: 0 };
  const allIdle = { ingest: empty, assess: empty, notify: empty, archive: 0 };
  await expect.poll(idle, { timeout: 120_000, interval: 300 }).toEqual(allIdle);
  const backup = (await insist(`${running.url}/v1/backup/events.ndjson`, key, 'GET')).trim().split('\n');
  const quarantine = JSON.parse(await insist(`${running.url}/v1/quarantine`, key, 'GET'));
  await running.end('SIGTERM');
  expect(killsUnderLoad, `seed ${seed}`).toBeGreaterThanOrEqual(KILLS - 2);

  // A repeat bears the same id: one id a telling, and one telling an id.
  const tellingOf = (data: { unitId: string; key: string; sequence: number }) =>
    `${data.unitId}/${data.key}/${data.sequence}`;
  const tellingsOfIds = new Map(receiver.notices.map(({ id, data }) => [id, tellingOf(data)]));
  expect(new Set(tellingsOfIds.values()).size).toBe(tellingsOfIds.size);
  for (const { id, data } of receiver.notices) expect(tellingsOfIds.get(id)).toBe(tellingOf(data));

  const table = await openTable({ folder: join(folder, 'table'), env: {}, onCapacity() {}, onFailure() {} });
  let transitions = 0;
  for (const { record } of fleet) {
    const unit = toUnit(record);
    const lines = backup.filter((line) => JSON.parse(line).source.endsWith(`/${unit.unitId}`));
    const stored = new Set(lines.map((line) => JSON.parse(line).id));
    const missing = [...(acknowledged.get(unit.unitId) ?? [])].filter((id) => !stored.has(id));
    expect(missing, `seed ${seed}: acknowledged and lost`).toEqual([]);

    const found = await table.store.unit(unit, { fresh: true });
    // Its noons have been looked at as far as the service got round to it, long after the last of these events.
    const whole = replayed(unit, lines, found.stored?.head.knownUntil ?? undefined);
    const { state, open, knownUntil, place, firstDate } = JSON.parse(JSON.stringify(whole.head));
    expect(found.stored?.head, `seed ${seed}`).toMatchObject({ state, open, knownUntil, place, firstDate });
    expect(found.stored?.outbox).toBeNull();
    const alerts = await table.store.alertsOf(unit);
    expect(Object.fromEntries(alerts.map(({ alertId, alert }) => [alertId, alert]))).toEqual(
      alertsOf(unit, whole),
    );
    // Units that fell silent together are told of together; see tests/functions/silence.test.ts.
    const tellings = whole.transitions.filter(({ alert }) => alert.kind !== 'silent-unit');
    const told = receiver.notices
      .map(({ data }) => data)
      .filter(({ unitId, alertId }) => unitId === unit.unitId && !alertId.startsWith('silent-unit'));
    expect(told.map((each) => each.key)).toEqual(expect.arrayContaining(tellings.map((each) => each.key)));
    // Notices may overtake each other on their way; their sequence says which stands.
    const inSequence = told.toSorted((a, b) => a.sequence - b.sequence);
    expect(lastHeard(inSequence)).toEqual(lastHeard(tellings));
    transitions += whole.transitions.length;
  }
  await table.close();
  // Otherwise the comparison of notices would say nothing.
  expect(transitions, `seed ${seed}`).toBeGreaterThan(3);
  expect(quarantine.items).toEqual([]);
  const sent = [...acknowledged.values()].reduce((sum, ids) => sum + ids.size, 0);
  console.log(
    `seed ${seed}: ${sent} events acknowledged, ${backup.length} copies kept, ${transitions} transitions, ` +
      `${receiver.notices.length} notices taken, ${receiver.notices.length - tellingsOfIds.size} of them repeats`,
  );
}, 400_000);
