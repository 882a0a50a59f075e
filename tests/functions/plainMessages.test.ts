import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as z from 'zod';
import { receivedSchema, storedSchema, touchedSchema } from '../../functions/messages.ts';
import { notifySchema } from '../../functions/noticeMessages.ts';
import {
  readNotice,
  readPublished,
  readReceived,
  readStored,
  readTouched,
  readTrialOrder,
} from '../../functions/plainMessages.ts';
import { notices } from '../../functions/send.ts';
import { trialOrderSchema } from '../../lib/trial/plan.ts';
import { outboxOf } from '../lib/store/examples.ts';

const COMPANY = 'fenwick-water';
const [notice] = notices({ companyId: COMPANY, unitId: 'u-19' }, 7, outboxOf('u-19').transitions);

const SENT_AT = 1_545_082_649_183;

/** What the broker's rule sends, and what it leaves where its action has failed. */
const publishedSchema = z.union([
  z
    .object({ data: z.base64(), thing: z.string(), unitId: z.string(), receivedAt: z.int() })
    .and(z.object({ base64OriginalPayload: z.undefined().optional() }))
    .transform(({ data, thing, unitId, receivedAt }) => ({
      ...{ payload: data, thing, topicOf: unitId, receivedAt },
    })),
  z
    .object({
      base64OriginalPayload: z.base64(),
      clientId: z.string(),
      topic: z.string().regex(/^units\/[^/]+\/events$/),
    })
    .transform(({ base64OriginalPayload, clientId, topic }) => ({
      ...{
        payload: base64OriginalPayload,
        thing: clientId,
        topicOf: topic.split('/')[1],
        receivedAt: SENT_AT,
      },
    })),
]);

const KINDS = [
  {
    name: 'to ingest',
    schema: receivedSchema,
    read: (body: string) => readReceived(JSON.parse(body)),
    examples: [
      { companyId: COMPANY, unitId: null, receivedAt: 17, line: '{}' },
      { companyId: COMPANY, unitId: 'u-1', receivedAt: 17, line: '', onTopicOf: 'u-2' },
    ],
  },
  {
    name: 'to ingest, from the broker',
    schema: publishedSchema,
    read: (body: string) => readPublished(JSON.parse(body), SENT_AT),
    examples: [
      { data: 'e30=', thing: 'fenwick-water:u-1', unitId: 'u-1', receivedAt: 17 },
      { base64OriginalPayload: 'AA==', clientId: 'fenwick-water:u-1', topic: 'units/u-1/events' },
    ],
  },
  {
    name: 'to assess',
    schema: touchedSchema,
    read: readTouched,
    examples: [
      { companyId: COMPANY, unitId: 'u-1', facts: [{ id: 'a', key: 'b' }], noon: 17, changed: true },
      { companyId: COMPANY, unitId: 'u-1', facts: [] },
    ],
  },
  {
    name: 'to archive',
    schema: storedSchema,
    read: readStored,
    examples: [
      {
        companyId: COMPANY,
        units: [{ unitId: 'u-1', region: 'r', timeZone: 'America/New_York', lines: ['{}', ''] }],
      },
    ],
  },
  {
    name: 'to notify',
    schema: notifySchema,
    read: readNotice,
    examples: [
      JSON.parse(notice?.body ?? ''),
      { ...JSON.parse(notice?.body ?? ''), about: 'alert' },
      {
        about: 'visit',
        companyId: COMPANY,
        unitId: 'u-1',
        visitId: 'v-1',
        date: '2026-03-04',
        occasion: 'planned',
      },
    ],
  },
  {
    name: 'to the workflow of a trial',
    schema: trialOrderSchema,
    read: (body: string) => readTrialOrder(JSON.parse(body)),
    examples: [
      { companyId: COMPANY, trialId: '1', rules: {} },
      { companyId: COMPANY, trialId: '999999999', rules: { overrun: { raise: 0.97 } } },
    ],
  },
];

/** Values near those that are allowed, and far from them. */
const value = fc.oneof(
  fc.constantFrom(
    'YWJj',
    'YWJ',
    'YW==',
    'Y===',
    'YWJj\n',
    'Y=Wj',
    'Y-_j',
    'units/u-2/events',
    'units//events',
  ),
  fc.constantFrom<unknown>(
    null,
    true,
    '',
    'u-2',
    'no id',
    '2026-03-29T16:00:00Z',
    '2026-03-29T16:00:00',
    'visit',
  ),
  fc.constantFrom<unknown>(
    'alert',
    'no-flow',
    'urgent',
    'cleared',
    'meter-stalled',
    0,
    1,
    -1,
    0.5,
    1.0001,
    2 ** 53,
    1e300,
  ),
  fc.jsonValue({ maxDepth: 1 }),
);

/** A message with some of its members, at any depth, left out, put in or given another value. */
function spoilt(message: unknown, at: readonly number[], what: unknown): unknown {
  const [step, ...rest] = at;
  if (step === undefined || typeof message !== 'object' || message === null) return what;
  const keys = [...Object.keys(message), 'other'];
  const key = keys[step % keys.length] ?? '';
  const inner = Array.isArray(message) ? message[Number(key)] : Object(message)[key];
  const changed = rest.length > 0 || what !== undefined ? spoilt(inner, rest, what) : undefined;
  if (!Array.isArray(message)) return { ...message, [key]: changed };
  return message.flatMap((each, index) =>
    String(index) !== key ? [each] : changed === undefined ? [] : [changed],
  );
}

async function verdict(read: () => unknown): Promise<unknown> {
  try {
    return { taken: await read() };
  } catch (error) {
    return error instanceof Error ? 'refused' : error;
  }
}

describe('messages of our own are read as their schemas read them', () => {
  it.each(KINDS)('$name', async ({ schema, read, examples }) => {
    for (const example of examples) {
      expect(await verdict(() => read(JSON.stringify(example)))).toEqual({ taken: schema.parse(example) });
    }
    const path = fc.array(fc.nat(20), { minLength: 1, maxLength: 4 });
    const changes = fc.array(fc.tuple(path, fc.option(value, { nil: undefined })), {
      minLength: 1,
      maxLength: 2,
    });
    let taken = 0;
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...examples), changes, async (example, each) => {
        const body = JSON.stringify(
          each.reduce<unknown>((from, [at, what]) => spoilt(from, at, what), example),
        );
        const byRead = await verdict(() => read(body));
        if (byRead !== 'refused') taken += 1;
        expect(byRead).toEqual(await verdict(() => schema.parse(JSON.parse(body))));
      }),
      { numRuns: 2_000 },
    );
    // Else nothing would be said of what is taken.
    expect(taken).toBeGreaterThan(20);
  });

  it('what is no JSON, or no object, is refused', async () => {
    for (const { read } of KINDS) {
      for (const body of ['', '{"companyId":', '17', 'null', '[]', '"text"']) {
        expect(await verdict(() => read(body)), body).toBe('refused');
      }
    }
  });
});
