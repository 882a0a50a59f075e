import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import fc from 'fast-check';
import { connectAsync } from 'mqtt';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { ingest } from '../../functions/ingest.ts';
import { receivedIn } from '../../functions/ingestForms.ts';
import { type ReceivedMessage, receivedSchema } from '../../functions/messages.ts';
import { hashOf } from '../../functions/secrets.ts';
import { type Broker, startBroker } from '../../infra/local/broker.ts';
import { MAX_EVENT_BYTES } from '../../shared/quarantine.ts';
import { unitRecordSchema } from '../../shared/registry.ts';
import { thingNameOf } from '../../shared/thingName.ts';
import { wire } from '../support/events.ts';
import { unitRecord } from '../support/fleet.ts';
import { sqsEvent } from '../support/lambda/events.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { noLog } from '../support/pipeline.ts';

const NOW = Date.UTC(2026, 2, 20, 12);
const UNIT = { companyId: 'fenwick-water', unitId: 'u-17' };
/** A certificate's id, which `principal()` gives, is 64 hexadecimal digits. */
const CERTIFICATE = 'ee1aca1f'.repeat(8);

/**
 * What `SELECT encode(*, 'base64') AS data, clientid() AS thing, ...` gives ("Functions" in the AWS IoT Core Developer Guide),
 * as JSON text: the SQS action leaves it so unless `useBase64` is set (the same guide, "SQS").
 */
function byRule(payload: Uint8Array, unit = UNIT, topicOf = unit.unitId): string {
  return JSON.stringify({
    data: Buffer.from(payload).toString('base64'),
    thing: thingNameOf(unit),
    principal: CERTIFICATE,
    unitId: topicOf,
    receivedAt: NOW,
  });
}

let broker: Broker;
const taken: ReceivedMessage[] = [];

beforeAll(async () => {
  const principal = { ...UNIT, name: 'fenwick-water/u-17', secretHash: hashOf('secret') };
  broker = await startBroker({
    ...{ host: '127.0.0.1', port: 0, now: () => NOW, log: noLog },
    store: { principal: async () => principal },
    ingest: {
      send: async (messages) => {
        taken.push(...messages.map(({ body }) => receivedSchema.parse(JSON.parse(body))));
      },
    },
  });
});

afterAll(() => broker.close());

test('the same bytes come out the same, whether by the local broker or by AWS IoT Core', async () => {
  const meter = await connectAsync(`mqtt://127.0.0.1:${broker.port}`, {
    ...{ username: 'fenwick-water/u-17', password: 'secret', reconnectPeriod: 0 },
  });
  const payload = fc.oneof(
    fc.uint8Array({ minLength: 1, maxLength: 60 }),
    fc.json().map((text) => Buffer.from(text)),
    fc.string({ unit: 'binary', minLength: 1 }).map((text) => Buffer.from(text)),
    // About the limit, in letters of one byte and of two.
    fc.tuple(fc.constantFrom('x', 'é'), fc.integer({ min: -2, max: 2 })).map(([letter, over]) => {
      return Buffer.from(letter.repeat((MAX_EVENT_BYTES + over) / Buffer.byteLength(letter)));
    }),
  );
  await fc.assert(
    fc.asyncProperty(payload, async (bytes) => {
      taken.length = 0;
      await meter.publishAsync('units/u-17/events', Buffer.from(bytes), { qos: 1 });
      expect(sqsEvent([{ body: byRule(bytes) }]).Records.map(receivedIn)).toEqual(taken);
    }),
    { numRuns: 100 },
  );
  await meter.endAsync();
});

/** Runs the function on messages; gives what failed and what was set aside. */
async function ingested(bodies: readonly string[]) {
  const store = memoryStore();
  await store.putRecords(
    UNIT.companyId,
    [unitRecord(), unitRecord({ unitId: 'u-18' })].map((record) => unitRecordSchema().parse(record)),
  );
  const touched: string[] = [];
  const nowhere = { send: async () => {} };
  const handler: (event: SQSEvent) => Promise<SQSBatchResponse> = ingest({
    ...{ store, now: () => NOW, meter: { count() {} }, log: noLog },
    queues: {
      ingest: nowhere,
      notify: nowhere,
      archive: nowhere,
      assess: { send: async (messages) => void touched.push(...messages.map(({ group = '' }) => group)) },
    },
  });
  const { batchItemFailures } = await handler(
    sqsEvent(bodies.map((body, index) => ({ id: String(index), body }))),
  );
  const { items } = await store.quarantined(UNIT.companyId, { limit: 10 });
  return {
    failed: batchItemFailures.map(({ itemIdentifier }) => itemIdentifier),
    touched,
    quarantined: items,
  };
}

const LEVEL = Buffer.from(
  JSON.stringify(wire('salt-level', 'e-1', NOW - 1_000, { mass: { value: 3, unit: 'kg' } })),
);

test('an event that came by the rule, or by its error action, is stored as that of its thing', async () => {
  const { failed, touched, quarantined } = await ingested([
    byRule(LEVEL),
    // The members of the guide's example of an error action message, with our topic and client id.
    JSON.stringify({
      ruleName: 'TestAction',
      topic: 'units/u-17/events',
      cloudwatchTraceId: '7e146a2c-95b5-6caf-98b9-50e3969734c7',
      clientId: thingNameOf(UNIT),
      base64OriginalPayload: LEVEL.toString('base64'),
      failures: [{ failedAction: 'SqsAction', failedResource: 'ingest', errorMessage: 'Failed to send' }],
    }),
  ]);
  expect({ failed, quarantined }).toEqual({ failed: [], quarantined: [] });
  expect(touched).toEqual(['fenwick-water/u-17']);
});

test('what came on the topic of another, or tells of another, is none of its sender’s', async () => {
  const { failed, touched, quarantined } = await ingested([
    byRule(LEVEL, UNIT, 'u-18'),
    byRule(LEVEL, { ...UNIT, unitId: 'u-18' }),
    byRule(Buffer.from('no event'), UNIT, 'u-18'),
  ]);
  expect({ failed, touched }).toEqual({ failed: [], touched: [] });
  expect(quarantined.map(({ reason, detail }) => `${reason} ${detail}`).sort()).toEqual([
    'not-an-event source: is not that of its sender, u-18',
    'not-an-event topic: is that of "u-18" and not of its sender, u-17',
    expect.stringMatching(/^not-json/),
  ]);
});

test('what cannot be read comes back, and holds up nothing beside it', async () => {
  const whole = JSON.parse(byRule(LEVEL));
  const broken = [
    ...['{', 'null', '[]', '"text"', '{}'],
    // Over HTTPS there is no client id: `clientid()` gives n/a ("Functions" of the guide).
    ...[{ thing: 'n/a' }, { thing: 'iotconsole-1' }, { data: '{"no":"base64"}' }, { receivedAt: 'now' }].map(
      (over) => JSON.stringify({ ...whole, ...over }),
    ),
    ...Object.keys(whole)
      .filter((name) => name !== 'principal')
      .map((name) => JSON.stringify({ ...whole, [name]: undefined })),
  ];
  const { failed, touched, quarantined } = await ingested([...broken, byRule(LEVEL)]);
  expect(failed).toEqual(broken.map((_, index) => String(index)));
  expect(quarantined).toEqual([]);
  expect(touched).toEqual(['fenwick-water/u-17']);
});
