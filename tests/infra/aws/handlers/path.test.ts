import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { chunks } from '../../../../shared/chunks.ts';
import type { Kept } from '../../../support/aws/sqs.ts';
import { wire } from '../../../support/events.ts';
import { PUBLIC_URL } from '../../../support/lambda/environment.ts';
import { httpEvent, sqsEvent } from '../../../support/lambda/events.ts';
import type { Lambda } from '../../../support/lambda/lambda.ts';
import { lines, records } from '../../../support/smallFleet.ts';
import { type Cloud, handedOut, OPERATOR_SECRET, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';
const NONE = { batchItemFailures: [] };

let cloud: Cloud;
let lambdas: Record<'api' | 'ingest' | 'assess' | 'notify', Lambda>;

beforeAll(async () => {
  cloud = await startCloud('api', 'ingest', 'assess', 'notify');
  const { start } = cloud;
  lambdas = {
    api: await start('api'),
    ingest: await start('ingest'),
    assess: await start('assess'),
    notify: await start('notify'),
  };
}, 120_000);
afterAll(() => cloud.stop());

const answerSchema = z.object({ statusCode: z.int(), body: z.string(), isBase64Encoded: z.literal(false) });

/** Asks the API, and takes the JSON of its answer. */
async function ask(method: string, path: string, key: string, body: string, type = 'application/json') {
  const headers = { authorization: `Bearer ${key}`, 'content-type': type };
  const answer = answerSchema.parse(await lambdas.api.invoke(httpEvent(method, path, { headers, body })));
  return { status: answer.statusCode, body: JSON.parse(answer.body) };
}

/** Notices of units that fell silent wait for those of others, half a minute. */
const aMinuteLater = (messages: readonly Kept[]) => handedOut(messages, Date.now() - 60_000);

test('what a gateway posts goes through every bundle, and mail is sent of what is wrong', async () => {
  const operator = `operator.${OPERATOR_SECRET}`;
  const company = JSON.stringify({ companyId: COMPANY, name: 'Fenwick Water' });
  const made = await ask('POST', '/v1/companies', operator, company);
  expect(made).toMatchObject({ status: 201 });
  const { key } = z.looseObject({ key: z.string() }).parse(made.body);
  const channels = [{ type: 'mail', to: ['dispatch@fenwick.example'] }];
  const changed = await ask('PUT', '/v1/company', key, JSON.stringify({ name: 'Fenwick Water', channels }));
  expect(changed.status).toBe(200);
  const registered = await ask('PUT', '/v1/units', key, JSON.stringify(records));
  expect(registered.status).toBe(200);
  cloud.take('assess');

  const posted = await ask('POST', '/v1/events', key, lines.join('\n'), 'application/x-ndjson');
  expect(posted).toEqual({ status: 202, body: { received: lines.length } });
  const received = cloud.take('ingest');
  expect(received.length).toBe(lines.length);
  // The trace goes on with the message, and from there to the function that is handed it.
  expect(received[0]?.trace).toContain('Root=1-5759e988-bd862e3fe1be46a994272793');

  for (const batch of chunks(received, 100)) {
    expect(await lambdas.ingest.invoke(handedOut(batch))).toEqual(NONE);
  }
  const touched = cloud.take('assess');
  expect(new Set(touched.map(({ group }) => group))).toEqual(
    new Set(records.map(({ unitId }) => `${COMPANY}/${unitId}`)),
  );
  for (const batch of chunks(touched, 10)) {
    expect(await lambdas.assess.invoke(handedOut(batch))).toEqual(NONE);
  }
  const told = cloud.take('notify');
  expect(told.length).toBeGreaterThan(0);
  for (const message of told) expect(await lambdas.notify.invoke(aMinuteLater([message]))).toEqual(NONE);

  expect(cloud.ses.mails.length).toBeGreaterThan(0);
  expect(cloud.ses.mails.length).toBeLessThanOrEqual(told.length);
  for (const { to, text } of cloud.ses.mails) {
    expect(to).toEqual(['dispatch@fenwick.example']);
    expect(text).toContain(PUBLIC_URL);
    expect(text).toMatch(/^From: Brinebell <alerts@brinebell\.example>\r$/m);
    expect(text).toMatch(/^Original-Message-ID:\s+<[0-9a-f]{32}@console\.brinebell\.example>\r$/m);
  }

  // Handed out again, as may happen at any time, nothing is sent twice.
  const sent = cloud.ses.mails.length;
  for (const message of told) expect(await lambdas.notify.invoke(aMinuteLater([message]))).toEqual(NONE);
  expect(cloud.ses.mails.length).toBe(sent);
  // The secret of the operator was read once, by a process that has asked often; nobody needed another.
  expect([...cloud.secrets.reads]).toEqual([['the-operator-key', 1]]);
});

test('a bad message fails alone, in each function that is handed batches', async () => {
  const good = { companyId: COMPANY, unitId: 'u-17' };
  const batches = {
    ingest: { ...good, receivedAt: Date.now(), line: lines[0] },
    assess: { ...good, facts: [] },
    notify: { about: 'visit', ...good, visitId: 'gone', date: '2026-03-31', occasion: 'planned' },
  };
  for (const [name, message] of Object.entries(batches)) {
    const group = name === 'assess' ? `${COMPANY}/u-17` : undefined;
    const event = sqsEvent([
      { id: 'good-1', body: JSON.stringify(message), group },
      { id: 'bad-1', body: '{"companyId":', group: group && 'bad/1' },
      { id: 'good-2', body: JSON.stringify(message), group },
      { id: 'bad-2', body: '{"companyId":17}', group: group && 'bad/2' },
    ]);
    const lambda = name === 'ingest' ? lambdas.ingest : name === 'assess' ? lambdas.assess : lambdas.notify;
    const answer = await lambda.invoke(event);
    expect(answer, name).toEqual({
      batchItemFailures: [{ itemIdentifier: 'bad-1' }, { itemIdentifier: 'bad-2' }],
    });
  }
});

test('what no form can tell, the bundle judges by its schemas: why a line is set aside, and a period away', async () => {
  const day = Date.parse('2026-03-29T05:00:00Z');
  const sent = [
    wire('flow-day', 'odd-1', day, { date: '2026-02-30', volume: { value: 1, unit: 'L' } }),
    wire('away', 'odd-2', day, { from: '2026-03-08', to: '2026-03-07' }),
    wire('away', 'even-1', day, { from: '2026-03-08', to: '2026-03-09' }),
  ].map((event) => ({
    body: JSON.stringify({
      ...{ companyId: COMPANY, unitId: null, receivedAt: Date.now(), line: JSON.stringify(event) },
    }),
  }));
  cloud.take('assess');
  expect(await lambdas.ingest.invoke(sqsEvent(sent))).toEqual(NONE);
  const { items } = await cloud.store.quarantined(COMPANY, { limit: 10 });
  expect(items.map(({ detail }) => detail).sort()).toEqual([
    'data.date: is not a date that exists (YYYY-MM-DD)',
    'data.to: ends before it begins',
  ]);
  expect(cloud.take('assess').map(({ group }) => group)).toEqual([`${COMPANY}/u-17`]);
});

test('counts are written in the embedded metric format, and logs name the invocation', async () => {
  const counts = lambdas.ingest.log().filter((line) => 'events_accepted' in line);
  expect(counts.reduce((sum, line) => sum + Number(line.events_accepted), 0)).toBeGreaterThanOrEqual(
    lines.length,
  );
  expect(counts[0]).toMatchObject({
    service: 'ingest',
    _aws: { CloudWatchMetrics: [{ Namespace: 'brinebell', Metrics: [{ Name: 'events_accepted' }] }] },
  });
  const warnings = lambdas.ingest.log().filter(({ level }) => level === 'WARN');
  expect(warnings[0]).toMatchObject({
    service: 'ingest',
    function_request_id: expect.stringMatching(/^[0-9a-f-]{36}$/),
  });
});
