import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { hashOf } from '../../../../functions/secrets.ts';
import { METER_RULE } from '../../../../infra/aws/stacks/meterRule.ts';
import { readFacts } from '../../../../lib/archive/readFacts.ts';
import { chunks } from '../../../../shared/chunks.ts';
import { unitRecordSchema } from '../../../../shared/registry.ts';
import { thingNameOf } from '../../../../shared/thingName.ts';
import { httpEvent, SCHEDULED, sqsEvent } from '../../../support/lambda/events.ts';
import { memoryFiles } from '../../../support/memoryFiles.ts';
import { lines, records } from '../../../support/smallFleet.ts';
import { type Cloud, handedOut, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';
const NONE = { batchItemFailures: [] };
const KEY = `${COMPANY}.the-secret`;

let cloud: Cloud;

beforeAll(async () => {
  cloud = await startCloud(
    ...(['api', 'ingest', 'archive', 'compact', 'report'] as const),
    ...(['trialPlan', 'trialRun', 'trialSum'] as const),
  );
  const { store } = cloud;
  await store.putCompany({ companyId: COMPANY, name: 'Fenwick Water', channels: [], rules: {} });
  await store.putPrincipal({
    companyId: COMPANY,
    unitId: null,
    name: COMPANY,
    secretHash: hashOf('the-secret'),
  });
  await store.putRecords(
    COMPANY,
    records.map((record) => unitRecordSchema().parse(record)),
  );
}, 120_000);
afterAll(() => cloud.stop());

/**
 * What the rule sends for a message of a meter: the members of its SELECT, as JSON text, which is what its SQS action puts
 * into the queue (AWS IoT Core Developer Guide, "SQS" and "SQL functions"). Clause and members are held together below.
 */
function byRule(line: string): string {
  const { source } = z.object({ source: z.string() }).parse(JSON.parse(line));
  const unitId = source.split('/').at(-1) ?? '';
  return JSON.stringify({
    data: Buffer.from(line).toString('base64'),
    thing: thingNameOf({ companyId: COMPANY, unitId }),
    principal: 'ee1aca1f'.repeat(8),
    unitId,
    receivedAt: Date.now(),
  });
}

test('the members of what the rule sends are those of its clause', () => {
  const named = [...METER_RULE.sql.matchAll(/ AS (\w+)/g)].map(([, name]) => name);
  expect(named.sort()).toEqual(Object.keys(JSON.parse(byRule(lines[0] ?? ''))).sort());
});

test('what meters publish lands in the archive, each fact once, and SQL is told of the partitions', async () => {
  const ingest = await cloud.start('ingest');
  for (const batch of chunks(lines, 100)) {
    expect(await ingest.invoke(sqsEvent(batch.map((line) => ({ body: byRule(line) }))))).toEqual(NONE);
  }
  const stored = cloud.take('archive');
  expect(stored.length).toBeGreaterThan(0);
  const archive = await cloud.start('archive');
  expect(await archive.invoke(handedOut(stored))).toEqual(NONE);
  const before = [...cloud.s3.files.keys()];
  // Handed out again, it overwrites itself.
  expect(await archive.invoke(handedOut(stored))).toEqual(NONE);
  expect([...cloud.s3.files.keys()]).toEqual(before);
  expect(cloud.glue.partitions.size).toBe(new Set(before.map((path) => path.replace(/[^/]+$/, ''))).size);
  // A few at a time leave several files of a partition, which are merged.
  for (const message of stored.slice(0, 3)) expect(await archive.invoke(handedOut([message]))).toEqual(NONE);
  const compact = await cloud.start('compact');
  expect(await compact.invoke(SCHEDULED)).toBeNull();

  const archived = await linesInArchive();
  expect(archived.length).toBe(new Set(archived).size);
  const ids = (all: readonly string[]) => all.map((line) => String(JSON.parse(line).id)).sort();
  const accepted = await acceptedIds();
  expect(accepted.length).toBeGreaterThan(0);
  expect([...new Set(ids(archived))]).toEqual([...new Set(accepted)].sort());
});

test('a message that is none fails alone', async () => {
  const archive = await cloud.start('archive');
  const event = sqsEvent([
    { id: 'good', body: JSON.stringify({ companyId: COMPANY, units: [] }) },
    { id: 'bad', body: '{"companyId":' },
  ]);
  expect(await archive.invoke(event)).toEqual({ batchItemFailures: [{ itemIdentifier: 'bad' }] });
});

test('month accounts are put where SQL looks for them', async () => {
  const report = await cloud.start('report');
  expect(await report.invoke(SCHEDULED)).toBeNull();
  expect([...cloud.s3.files.keys()]).toContain(`reports/${COMPANY}/salt.csv`);
});

test('a trial of rules goes through the steps of its workflow, from the API and back', async () => {
  const api = await cloud.start('api');
  const ask = async (method: string, path: string, body?: object) => {
    const headers = { authorization: `Bearer ${KEY}`, 'content-type': 'application/json' };
    const event = httpEvent(method, path, { headers, ...(body && { body: JSON.stringify(body) }) });
    const answer = z.looseObject({ statusCode: z.int(), body: z.string() }).parse(await api.invoke(event));
    return { status: answer.statusCode, body: JSON.parse(answer.body) };
  };
  const started = await ask('POST', '/v1/rule-trials', { rules: { overrun: { raise: 0.99 } } });
  expect(started.status).toBe(202);
  const [order = ''] = cloud.steps.inputs.values();

  const planned = await (await cloud.start('trialPlan')).invoke(JSON.parse(order));
  const { items } = z.object({ items: z.string() }).parse(planned);
  // As the distributed map reads it: a JSON array, of which each item is an input.
  const listed = z.array(z.object({})).parse(JSON.parse(cloud.s3.files.get(items)?.toString() ?? ''));
  const raw: object[] = JSON.parse(cloud.s3.files.get(items)?.toString() ?? '');
  expect(listed.length).toBeGreaterThan(0);
  const run = await cloud.start('trialRun');
  for (const item of raw) expect(await run.invoke(item)).toBeNull();
  expect(await (await cloud.start('trialSum')).invoke(Object(planned))).toHaveProperty('summary');

  const { trialId } = z.looseObject({ trialId: z.string() }).parse(started.body);
  const looked = await ask('GET', `/v1/rule-trials/${trialId}`);
  expect(looked).toMatchObject({ status: 200, body: { state: 'done', parts: { failed: 0 } } });
});

/** All lines of the archive, by our own reader over a copy of the bucket. */
async function linesInArchive(): Promise<string[]> {
  const { files } = memoryFiles();
  for (const [path, content] of cloud.s3.files) await files.put(path, new Uint8Array(content));
  const all: string[] = [];
  for await (const { lines: ofUnit } of readFacts(files, COMPANY, { from: '0', to: 'z' }))
    all.push(...ofUnit);
  return all;
}

/** The ids of the facts that the table has. */
async function acceptedIds(): Promise<string[]> {
  const ids: string[] = [];
  for (const { unitId } of records) {
    const { items } = await cloud.store.facts({ companyId: COMPANY, unitId }, { limit: 10_000 });
    ids.push(...items.map(({ line }) => String(JSON.parse(line).id)));
  }
  return ids;
}
