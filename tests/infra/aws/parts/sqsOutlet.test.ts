import type { SendMessageBatchCommandOutput, SQSClient } from '@aws-sdk/client-sqs';
import { SendMessageBatchCommand } from '@aws-sdk/client-sqs';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { groupBy } from '../../../../functions/groupBy.ts';
import type { Outgoing } from '../../../../functions/ports.ts';
import { sqsOutlet } from '../../../../infra/aws/parts/sqsOutlet.ts';

/** Amazon SQS API reference, SendMessageBatch and SendMessage. */
const MOST_ENTRIES = 10;
const MOST_BYTES = 1_048_576;
const ALLOWED = /^[\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]+$/u;

interface Taken {
  readonly body: string;
  readonly group: string | undefined;
  readonly dedup: string | undefined;
}

/**
 * A queue that judges calls as SQS does, and takes some entries only when they come again.
 *
 * @param takes whether it takes an entry this time
 */
function queue(takes: () => boolean) {
  const taken: Taken[] = [];
  let calls = 0;
  const send = async (command: unknown): Promise<Partial<SendMessageBatchCommandOutput>> => {
    if (!(command instanceof SendMessageBatchCommand)) throw new Error('only sending is known here');
    const { Entries = [] } = command.input;
    calls += 1;
    expect(Entries.length).toBeGreaterThan(0);
    expect(Entries.length).toBeLessThanOrEqual(MOST_ENTRIES);
    expect(new Set(Entries.map(({ Id }) => Id)).size).toBe(Entries.length);
    const bytes = Entries.reduce((sum, { MessageBody = '' }) => sum + Buffer.byteLength(MessageBody), 0);
    expect(bytes).toBeLessThanOrEqual(MOST_BYTES);
    const Failed: { Id: string; SenderFault: boolean; Code: string }[] = [];
    // Entries of a call are taken in their order; calls under way at once are not.
    await new Promise((resolve) => setImmediate(resolve));
    for (const entry of Entries) {
      expect(entry.MessageBody).toMatch(ALLOWED);
      if (entry.MessageGroupId !== undefined) expect(entry.MessageGroupId.length).toBeLessThanOrEqual(128);
      const { MessageBody = '', MessageGroupId: group, MessageDeduplicationId: dedup } = entry;
      if (takes()) taken.push({ body: MessageBody, group, dedup });
      else Failed.push({ Id: entry.Id ?? '', SenderFault: false, Code: 'InternalError' });
    }
    return { Failed };
  };
  return { client: { send: send as SQSClient['send'] }, taken, calls: () => calls };
}

/** Bodies as ours are: JSON, of any letters, some of them as large as they may be. */
const body = fc.oneof(
  { weight: 2, arbitrary: fc.constantFrom('"\uFFFE and \uFFFF"', JSON.stringify('\u0000\uD800 {')) },
  { weight: 8, arbitrary: fc.string({ unit: 'binary' }).map((text) => JSON.stringify(text)) },
  {
    weight: 1,
    arbitrary: fc.integer({ min: 200_000, max: 500_000 }).map((size) => JSON.stringify('é'.repeat(size / 2))),
  },
);
const messages = fc.array(
  fc.record({
    body,
    group: fc.option(fc.constantFrom('a/1', 'a/2', `${'c'.repeat(64)}/${'u'.repeat(64)}`), {
      nil: undefined,
    }),
  }),
  { maxLength: 60 },
);

/** What a message says, however it is written. */
const said = (bodies: readonly { body: string }[]) => bodies.map((each) => JSON.parse(each.body));

test('whatever is sent is taken whole, each once, and in order within its group, though calls are taken in part', async () => {
  await fc.assert(
    fc.asyncProperty(messages, fc.boolean(), fc.infiniteStream(fc.boolean()), async (sent, fifo, chance) => {
      let refused = 0;
      const { client, taken } = queue(() => {
        // Never so often in a row that its patience is over, which is another test.
        refused = chance.next().value || refused === 3 ? 0 : refused + 1;
        return refused === 0;
      });
      const outlet = sqsOutlet({ client, url: 'https://q', fifo, pause: async () => {} });
      await outlet.send(sent);
      expect(said(taken).sort()).toEqual(said(sent).sort());
      if (!fifo) return;
      expect(new Set(taken.map(({ dedup }) => dedup)).size).toBe(sent.length);
      const groups = groupBy(sent, ({ group = '' }) => group);
      const takenOf = [...groupBy(taken, ({ group = '' }) => group).values()].map(said);
      expect(takenOf.length).toBe(groups.size);
      for (const of of groups.values()) expect(takenOf).toContainEqual(said(of));
    }),
    { numRuns: 60 },
  );
});

test('many small messages take as few calls as there can be', async () => {
  const { client, taken, calls } = queue(() => true);
  const sent: Outgoing[] = Array.from({ length: 95 }, (_, index) => ({ body: String(index) }));
  await sqsOutlet({ client, url: 'https://q', fifo: false }).send(sent);
  expect(taken.length).toBe(95);
  expect(calls()).toBe(10);
});

test('a queue that takes nothing is given up, and one that refuses at once; what is too large is not tried', async () => {
  const deaf = queue(() => false);
  const outlet = sqsOutlet({ client: deaf.client, url: 'https://q', fifo: false, pause: async () => {} });
  await expect(outlet.send([{ body: '1' }])).rejects.toMatchObject({ code: 'not-taken' });
  expect(deaf.calls()).toBe(5);

  const refusing = {
    send: async () => ({ Failed: [{ Id: '0', SenderFault: true, Code: 'InvalidMessageContents' }] }),
  };
  await expect(
    sqsOutlet({ client: { send: refusing.send as SQSClient['send'] }, url: 'https://q', fifo: false }).send([
      { body: '1' },
    ]),
  ).rejects.toMatchObject({ code: 'refused' });

  const open = queue(() => true);
  const large = sqsOutlet({ client: open.client, url: 'https://q', fifo: false });
  await expect(large.send([{ body: '1' }, { body: 'x'.repeat(MOST_BYTES + 1) }])).rejects.toMatchObject({
    code: 'too-large',
  });
  expect(open.calls()).toBe(0);
});
