import { once } from 'node:events';
import { connect as tcp } from 'node:net';
import { connectAsync, type IClientOptions, type MqttClient } from 'mqtt';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { receivedSchema } from '../../../functions/messages.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { type Broker, startBroker } from '../../../infra/local/broker.ts';
import type { Principal } from '../../../lib/store/principal.ts';
import { MAX_EVENT_BYTES } from '../../../shared/quarantine.ts';

const PRINCIPALS: readonly Principal[] = [
  { name: 'acme/u1', companyId: 'acme', unitId: 'u1', secretHash: hashOf('secret of u1') },
  { name: 'acme/u2', companyId: 'acme', unitId: 'u2', secretHash: hashOf('secret of u2') },
  { name: 'other/u1', companyId: 'other', unitId: 'u1', secretHash: hashOf('secret of the other u1') },
  { name: 'acme-key', companyId: 'acme', unitId: null, secretHash: hashOf('secret of the key') },
];

let broker: Broker;
let taken: { companyId: string; unitId: string | null; line: string }[];
/** What the next messages wait for before they are durable. */
let durable: Promise<void>;
const clients: MqttClient[] = [];

beforeEach(async () => {
  taken = [];
  durable = Promise.resolve();
  const quiet = () => {};
  broker = await startBroker({
    host: '127.0.0.1',
    port: 0,
    store: { principal: async (name) => PRINCIPALS.find((each) => each.name === name) },
    ingest: {
      send: async (messages) => {
        taken.push(...messages.map(({ body }) => receivedSchema.parse(JSON.parse(body))));
        await durable;
      },
    },
    now: () => 1,
    log: { debug: quiet, info: quiet, warn: quiet, error: quiet },
  });
});

afterEach(async () => {
  await Promise.all(clients.splice(0).map((client) => client.endAsync(true)));
  await broker.close();
});

async function meter(options: IClientOptions = {}): Promise<MqttClient> {
  const client = await connectAsync(`mqtt://127.0.0.1:${broker.port}`, {
    username: 'acme/u1',
    password: 'secret of u1',
    reconnectPeriod: 0,
    ...options,
  });
  client.on('error', () => {});
  clients.push(client);
  return client;
}

/** Resolves when the connection is over, however it ends. */
function closed(client: MqttClient): Promise<void> {
  return new Promise<void>((resolve) => client.once('close', () => resolve()));
}

for (const qos of [0, 1, 2] as const) {
  test(`a meter's messages arrive in order at QoS ${qos}`, async () => {
    const client = await meter();
    const lines = Array.from({ length: 200 }, (_, index) => `line ${index}`);
    await Promise.all(lines.map((line) => client.publishAsync('units/u1/events', line, { qos })));
    await expect.poll(() => taken.length).toBe(lines.length);
    expect(taken).toEqual(lines.map((line) => ({ companyId: 'acme', unitId: 'u1', receivedAt: 1, line })));
  });
}

test('a message is acknowledged only when it is durable', async () => {
  let written: () => void = () => {};
  durable = new Promise((resolve) => {
    written = resolve;
  });
  const client = await meter();
  let acknowledged = false;
  const published = client.publishAsync('units/u1/events', 'line', { qos: 1 }).then(() => {
    acknowledged = true;
  });
  await expect.poll(() => taken.length).toBe(1);
  // A ping that is answered meanwhile shows that an acknowledgement would have come through.
  const answered = new Promise((resolve) => client.once('packetreceive', resolve));
  client.sendPing();
  await answered;
  expect(acknowledged).toBe(false);
  written();
  await published;
});

test('a message that cannot be kept is not acknowledged', async () => {
  durable = Promise.reject(new Error('the disk is full'));
  durable.catch(() => {});
  const client = await meter();
  const received: string[] = [];
  client.on('packetreceive', ({ cmd }) => received.push(cmd));
  client.publish('units/u1/events', 'line', { qos: 1 });
  await closed(client);
  expect(received).not.toContain('puback');
});

test('nobody logs in with what is not a credential of a meter', async () => {
  const wrong: IClientOptions[] = [
    { password: 'secret of u2' },
    { password: '' },
    { username: 'acme/u3' },
    { username: 'u1' },
    { username: 'acme' },
    { username: 'other/u1' },
    { username: '' },
    { username: 'acme-key', password: 'secret of the key' },
    { username: 'acme/u1', password: hashOf('secret of u1') },
  ];
  for (const options of wrong) {
    await expect(meter(options), JSON.stringify(options)).rejects.toMatchObject({ code: 4 });
  }
  await expect(connectAsync(`mqtt://127.0.0.1:${broker.port}`)).rejects.toMatchObject({ code: 4 });
  expect(taken).toEqual([]);
});

test('a meter that publishes anywhere but on its own topic is cut off', async () => {
  const elsewhere = [
    ...PRINCIPALS.flatMap(({ unitId }) => (unitId === 'u1' ? [] : [`units/${unitId}/events`])),
    ...['units/U1/events', 'units/u1/event', 'units/u1/events/', '/units/u1/events', 'units//events'],
    ...['units/u1', 'events', 'acme/u1', 'acme/units/u1/events', 'units/acme/u1/events'],
    ...['units/u1/events/more', 'units/../units/u1/events', 'units/u1%2Fevents', 'units/u1/events '],
    ...['$SYS/broker/new/clients', '$share/a/units/u1/events', `${'a/'.repeat(200)}b`],
  ];
  for (const topic of elsewhere) {
    const client = await meter();
    client.publish(topic, 'line', { qos: 1 });
    await closed(client);
  }
  const client = await meter();
  client.publish('units/u1/events', 'line', { qos: 1, retain: true });
  await closed(client);
  expect(taken).toEqual([]);
});

test('a meter cannot subscribe to anything', async () => {
  for (const topic of ['units/u1/events', 'units/u2/events', '#', '+/+/+', '$SYS/#']) {
    const client = await meter();
    const ended = closed(client);
    client.subscribeAsync(topic).catch(() => {});
    await ended;
  }
});

test('a last will obeys the same rules', async () => {
  const cutOff = async (topic: string) => {
    const client = await meter({ will: { topic, payload: Buffer.from(`will on ${topic}`), qos: 1 } });
    client.stream.destroy();
  };
  await cutOff('units/u2/events');
  await cutOff('units/u1/events');
  await expect.poll(() => taken.length).toBe(1);
  expect(taken).toMatchObject([{ companyId: 'acme', unitId: 'u1', line: 'will on units/u1/events' }]);
});

test('a meter cannot end the connection of another by taking its name', async () => {
  const first = await meter({ clientId: 'acme/u1' });
  await meter({ clientId: 'acme/u1', username: 'acme/u2', password: 'secret of u2' });
  await first.publishAsync('units/u1/events', 'still here', { qos: 1 });
  expect(taken).toMatchObject([{ line: 'still here' }]);
});

test('a payload that is too large, or no UTF-8, arrives as something to be quarantined', async () => {
  const client = await meter();
  await client.publishAsync('units/u1/events', Buffer.from([0x7b, 0xff, 0xfe]), { qos: 1 });
  await client.publishAsync('units/u1/events', 'é'.repeat(MAX_EVENT_BYTES / 2), { qos: 1 });
  await client.publishAsync('units/u1/events', 'é'.repeat(MAX_EVENT_BYTES / 2 + 1), { qos: 1 });
  await client.publishAsync('units/u1/events', 'x'.repeat(2 * MAX_EVENT_BYTES), { qos: 1 });
  expect(taken.map(({ line }) => line.length)).toEqual([
    3,
    MAX_EVENT_BYTES / 2,
    MAX_EVENT_BYTES + 1,
    MAX_EVENT_BYTES + 1,
  ]);
  expect(taken[0]?.line).toBe('{\ufffd\ufffd');
});

test('a packet that announces far more than an event ends the connection before it comes', async () => {
  const socket = tcp(broker.port, '127.0.0.1');
  await once(socket, 'connect');
  socket.on('error', () => {});
  const ended = new Promise((resolve) => socket.once('close', resolve));
  // CONNECT, with a remaining length of 268,435,455.
  socket.write(Buffer.from([0x10, 0xff, 0xff, 0xff, 0x7f]));
  await ended;
  const client = await meter();
  client.publish('units/u1/events', 'x'.repeat(10 * MAX_EVENT_BYTES), { qos: 1 });
  await closed(client);
  expect(taken).toEqual([]);
});
