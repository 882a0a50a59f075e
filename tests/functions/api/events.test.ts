import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MAX_EVENTS } from '../../../functions/api/eventLines.ts';
import { receivedSchema } from '../../../functions/messages.ts';
import { admit } from '../../../shared/admission.ts';
import { anyText } from '../../support/damaged.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { lines } from '../../support/smallFleet.ts';
import { bodies, keyOf, NOW, service } from './service.ts';

const ONE = 'application/cloudevents+json';
const BATCH = 'application/cloudevents-batch+json';
const NDJSON = 'application/x-ndjson';

/** Sends a body as a company; gives the answer and the lines that have gone to the queue. */
async function send(type: string, body: string | Uint8Array<ArrayBuffer>) {
  const made = service();
  const key = await keyOf(made, 'fenwick-water');
  const response = await made.app.request('/v1/events', {
    method: 'POST',
    headers: { authorization: `Bearer ${key}`, 'content-type': type },
    body,
  });
  const messages = bodies(made.sent.ingest).map((message) => receivedSchema.parse(message));
  return {
    status: response.status,
    body: await response.json(),
    messages,
    sent: messages.map(({ line }) => line),
  };
}

describe('events', () => {
  it('go to the queue one by one, as they came, under the company of the key', async () => {
    const { status, body, messages } = await send(
      `${NDJSON}; charset=utf-8`,
      `\uFEFF${lines.join('\r\n')}\n \n`,
    );
    expect([status, body]).toEqual([202, { received: lines.length }]);
    expect(messages).toEqual(
      lines.map((line) => ({ companyId: 'fenwick-water', unitId: null, receivedAt: NOW, line })),
    );
  });

  it('as lines of any text are each kept to the letter', async () => {
    // Halves of surrogate pairs have no UTF-8.
    const line = anyText.map((text) => Buffer.from(text.replaceAll(/[\r\n\uFEFF]/g, '')).toString());
    await fc.assert(
      fc.asyncProperty(fc.array(line, { maxLength: 8 }), async (all) => {
        const { sent, body } = await send(NDJSON, all.join('\n'));
        const wanted = all.filter((text) => text.trim() !== '');
        expect(sent).toEqual(wanted);
        expect(body).toEqual({ received: wanted.length });
      }),
      { numRuns: 50 },
    );
  });

  it('in a batch are each taken, whatever they are', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(fc.jsonValue(), { maxLength: 8 }), async (all) => {
        const { sent } = await send(BATCH, JSON.stringify(all, null, 2));
        expect(sent).toEqual(all.map((each) => JSON.stringify(each)));
      }),
      { numRuns: 50 },
    );
  });

  it('one at a time are kept as they came, but on one line', async () => {
    const [line = ''] = lines;
    expect((await send(ONE, line)).sent).toEqual([line]);
    expect((await send(ONE, JSON.stringify(JSON.parse(line), null, 2))).sent).toEqual([line]);
    expect((await send(ONE, '{"id":\n')).sent).toEqual(['{"id":\n']);
  });

  it('that are too large are cut to where they still are', async () => {
    const { units } = registryOf(unitRecord());
    for (const type of [ONE, NDJSON]) {
      const { sent } = await send(type, `{"id":"${'x'.repeat(200_000)}"}`);
      expect(sent.map(({ length }) => length)).toEqual([65_537]);
      expect(admit(sent[0] ?? '', units)).toMatchObject({ reason: 'too-large' });
    }
  });

  it('that are nested too deeply to be written stop no neighbour', async () => {
    const deep = `${'['.repeat(400_000)}${']'.repeat(400_000)}`;
    const { status, sent } = await send(BATCH, `[1,${deep},2]`);
    expect(status).toBe(202);
    expect([sent[0], sent[2], sent.length]).toEqual(['1', '2', 3]);
    expect(admit(sent[1] ?? '', new Map())).toMatchObject({ accepted: false });
  });

  it.each([
    ['a batch that is no array', BATCH, '{}', 400, 'batch-not-an-array'],
    ['a batch that breaks off', BATCH, '[{}', 400, 'batch-not-an-array'],
    ['bytes that are no UTF-8', NDJSON, new Uint8Array([0x7b, 0xff, 0x7d]), 400, 'body-not-utf-8'],
    ['another encoding', `${NDJSON}; charset=iso-8859-1`, '{}', 415, 'media-type-unsupported'],
    ['plain JSON', 'application/json', '{}', 415, 'media-type-unsupported'],
    ['more events than go into a request', NDJSON, '1\n'.repeat(MAX_EVENTS + 1), 413, 'too-many-events'],
  ])('are refused as a whole from %s', async (_, type, body, status, problem) => {
    const answer = await send(type, body);
    expect(answer).toMatchObject({ status, body: { type: `/problems/${problem}` }, messages: [] });
  });

  it('are acknowledged only once the queue has them', async () => {
    const made = service();
    const key = await keyOf(made, 'fenwick-water');
    made.ports.queues.ingest.send = async () => {
      throw new Error('the disk is full');
    };
    const response = await made.ask('POST', '/v1/events', { key, type: ONE, body: lines[0] });
    expect(response.status).toBe(500);
    expect(await response.text()).not.toContain('disk');
  });
});

describe('what people say about a unit', () => {
  it.each([
    ['away', 'away', { from: '2026-03-20', to: '2026-03-24' }],
    ['at-home', 'at-home', { from: '2026-03-20', to: '2026-03-24' }],
    [
      'visits/record',
      'service-visit',
      {
        technician: 'tech-4',
        findings: ['turbine stuck'],
        work: [],
        rawHardness: { value: 21, unit: '[gr]/[gal_us]' },
      },
    ],
  ])('under %s becomes an event that is accepted', async (path, kind, body) => {
    const made = service();
    const key = await keyOf(made, 'fenwick-water');
    const record = unitRecord();
    await made.ask('PUT', '/v1/units', { key, body: [record] });
    const answers = [1, 2].map(() => made.ask('POST', `/v1/units/u-17/${path}`, { key, body }));
    const ids = await Promise.all(answers.map(async (answer) => (await answer).json()));
    const sent = bodies(made.sent.ingest).map((message) => receivedSchema.parse(message));
    const facts = sent.map(({ line, receivedAt }) => admit(line, registryOf(record).units, receivedAt));
    expect(facts).toMatchObject(
      ids.map((id) => ({ accepted: true, fact: { kind, time: NOW, ...(id as object) } })),
    );
    expect(new Set(sent.map(({ line }) => JSON.parse(line).id)).size).toBe(2);
  });

  it('is refused at once where no event could be made of it', async () => {
    const made = service();
    const key = await keyOf(made, 'fenwick-water');
    await made.ask('PUT', '/v1/units', { key, body: [unitRecord()] });
    const backwards = await made.ask('POST', '/v1/units/u-17/away', {
      key,
      body: { from: '2026-03-24', to: '2026-03-20' },
    });
    expect(await backwards.json()).toMatchObject({
      type: '/problems/request-invalid',
      errors: [{ pointer: '#/to', detail: 'ends before it begins' }],
    });
    const long = { technician: 'tech-4', work: [], findings: ['x'.repeat(70_000)] };
    expect((await made.ask('POST', '/v1/units/u-17/visits/record', { key, body: long })).status).toBe(413);
    expect(made.sent.ingest).toEqual([]);
  });
});
