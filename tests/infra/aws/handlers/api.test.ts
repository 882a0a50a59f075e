import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { hashOf } from '../../../../functions/secrets.ts';
import { live } from '../../../functions/api/service.ts';
import { httpEvent } from '../../../support/lambda/events.ts';
import type { Lambda } from '../../../support/lambda/lambda.ts';
import { lines, records } from '../../../support/smallFleet.ts';
import { type Cloud, OPERATOR_SECRET, startCloud } from './cloud.ts';

const COMPANY = 'fenwick-water';
const KEY = `${COMPANY}~desk.of-the-desk`;

let cloud: Cloud;
let api: Lambda;

beforeAll(async () => {
  cloud = await startCloud('api');
  const { store } = cloud;
  await store.putCompany({ companyId: COMPANY, name: 'Fenwick Water', channels: [], rules: {} });
  await store.putPrincipal({
    name: `${COMPANY}~desk`,
    companyId: COMPANY,
    unitId: null,
    secretHash: hashOf('of-the-desk'),
  });
  await live(store, records, lines);
  api = await cloud.start('api');
}, 120_000);
afterAll(() => cloud.stop());

/** "Lambda function response for format 2.0": Amazon API Gateway developer guide. */
const answerSchema = z.strictObject({
  statusCode: z.int(),
  headers: z.record(z.string(), z.string()),
  body: z.string(),
  isBase64Encoded: z.boolean(),
  cookies: z.array(z.string()).optional(),
});

async function ask(
  method: string,
  path: string,
  given: { headers?: Record<string, string>; body?: string | Uint8Array; key?: string } = {},
) {
  const { key = KEY, body, headers } = given;
  const all = { ...(key !== '' && { authorization: `Bearer ${key}` }), ...headers };
  const event = httpEvent(method, path, { headers: all, ...(body !== undefined && { body }) });
  const answer = answerSchema.parse(await api.invoke(event));
  const bytes = Buffer.from(answer.body, answer.isBase64Encoded ? 'base64' : 'utf8');
  return { ...answer, bytes, json: () => JSON.parse(bytes.toString()) };
}

test('a query, and a path with escapes, arrive as they were sent', async () => {
  const page = await ask('GET', '/v1/units?limit=2');
  expect(page.statusCode).toBe(200);
  expect(page.json().items).toHaveLength(2);
  expect((await ask('GET', '/v1/units?limit=none')).json()).toMatchObject({ status: 400 });
  expect((await ask('GET', '/v1/units/u%2D17')).json()).toMatchObject({ record: { unitId: 'u-17' } });
});

test('answers that are no text come in base64, and text as it is', async () => {
  const parquet = await ask('GET', '/v1/salt.parquet');
  expect(parquet).toMatchObject({ statusCode: 200, isBase64Encoded: true });
  // "PAR1" begins and ends a file: Apache Parquet, file format.
  expect([parquet.bytes.subarray(0, 4).toString(), parquet.bytes.subarray(-4).toString()]).toEqual([
    'PAR1',
    'PAR1',
  ]);
  const sheet = await ask('GET', '/v1/units/u-19/brief.pdf');
  expect(sheet).toMatchObject({ statusCode: 200, isBase64Encoded: true });
  expect(sheet.headers['content-type']).toBe('application/pdf');
  expect(sheet.bytes.subarray(0, 5).toString()).toBe('%PDF-');
  expect(sheet.bytes.subarray(-6).toString()).toBe('%%EOF\n');
  for (const path of ['/v1/salt.csv', '/v1/units/u-19/brief.html', '/v1/backup/units.ndjson']) {
    expect((await ask('GET', path)).isBase64Encoded, path).toBe(false);
  }
});

test('a body in base64 is the same as one in text', async () => {
  const type = { 'content-type': 'application/x-ndjson' };
  const body = `${lines[0]}\n${lines[1]}\n`;
  for (const each of [body, Buffer.from(body)]) {
    expect((await ask('POST', '/v1/events', { headers: type, body: each })).json()).toEqual({ received: 2 });
  }
  const [first, second, ...again] = cloud.take('ingest').map((message) => JSON.parse(message.body).line);
  expect([first, second]).toEqual(again);
  expect(first).toBe(lines[0]);
});

test('ten thousand events of one request become messages, within the time that it has', async () => {
  const body = Array.from({ length: 10_000 }, (_, n) => `{"n":${n}}`).join('\n');
  const posted = await ask('POST', '/v1/events', {
    headers: { 'content-type': 'application/x-ndjson' },
    body,
  });
  expect(posted.json()).toEqual({ received: 10_000 });
  const numbers = cloud.take('ingest').map((message) => JSON.parse(JSON.parse(message.body).line).n);
  expect(new Set(numbers).size).toBe(10_000);
});

test('it is well where its table answers, refuses strangers, and asks for no secret until it needs one', async () => {
  expect((await ask('GET', '/health', { key: '' })).json()).toEqual({ ok: true });
  expect((await ask('GET', '/v1/units', { key: '' })).statusCode).toBe(401);
  expect((await ask('GET', '/v1/sign-in', { key: '' })).json()).toEqual({
    issuer: 'https://cognito-idp.us-east-2.amazonaws.com/us-east-2_ABC123',
    clientId: '1example23456789',
    scope: 'openid email',
  });
  expect([...cloud.secrets.reads]).toEqual([]);
  expect((await ask('GET', '/v1/companies', { key: `operator.${OPERATOR_SECRET}` })).statusCode).toBe(200);
  expect((await ask('GET', '/v1/companies', { key: 'operator.a-guess' })).statusCode).toBe(401);
  expect((await ask('GET', '/answer/no~such~token~at~all', { key: '' })).statusCode).toBe(410);
  expect([...cloud.secrets.reads]).toEqual([
    ['the-operator-key', 1],
    ['the-answer-key', 1],
  ]);
});

test('dead letters are those of the queues of dead letters, and go back where they came from', async () => {
  const park = (queue: string, body: string, group?: string) => {
    const letter = { id: body, body, group, dedup: undefined, trace: undefined, hiddenUntil: 0, receipt: '' };
    cloud.sqs.queues.set(queue, [...(cloud.sqs.queues.get(queue) ?? []), letter]);
  };
  const body = JSON.stringify({ companyId: COMPANY, unitId: 'u-17', facts: [] });
  park('dead-ingest', JSON.stringify({ companyId: 'somebody-else' }));
  park('dead-assess.fifo', body, `${COMPANY}/u-17`);
  expect((await ask('GET', '/v1/dead-letters')).json().items).toMatchObject([{ queue: 'assess', body }]);
  expect((await ask('POST', '/v1/dead-letters/sendings')).json()).toEqual({ sent: 1 });
  expect(cloud.take('assess')).toMatchObject([{ body, group: `${COMPANY}/u-17` }]);
  expect((await ask('GET', '/v1/dead-letters')).json()).toEqual({ items: [] });
});

const documentSchema = z.object({ paths: z.record(z.string(), z.record(z.string(), z.unknown())) });

test('whichever path a process is asked first, it knows all ways of asking there', async () => {
  const { paths } = documentSchema.parse((await ask('GET', '/openapi.json', { key: '' })).json());
  expect(Object.keys(paths).length).toBeGreaterThan(30);
  const wrong: string[] = [];
  for (const [path, item] of Object.entries(paths)) {
    // It looks like the visit of that id, which can be dropped.
    if (path.endsWith('/visits/record')) continue;
    const asked = path.replace(/\{\w+\}/g, 'u-17');
    for (const method of ['get', 'put', 'post', 'delete', 'patch']) {
      const { statusCode, headers } = await ask(method.toUpperCase(), asked, { key: '' });
      const isKnown = Object.hasOwn(item, method);
      const { security } = z.looseObject({ security: z.unknown().optional() }).parse(item[method] ?? {});
      const fits = isKnown
        ? security
          ? statusCode === 401
          : statusCode === 200
        : statusCode === 405 && headers.allow !== undefined;
      if (!fits) wrong.push(`${method} ${asked}: ${statusCode}`);
    }
  }
  expect(wrong).toEqual([]);
  expect((await ask('GET', '/v1/nowhere')).json()).toMatchObject({ status: 404 });
});
