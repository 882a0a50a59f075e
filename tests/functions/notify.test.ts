import type { SQSEvent } from 'aws-lambda';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import type { NoticeMessage } from '../../functions/noticeMessages.ts';
import { notify } from '../../functions/notify.ts';
import type { Ports } from '../../functions/ports.ts';
import { sentNotices } from '../../functions/sentNotices.ts';
import { mailCarrier } from '../../lib/channels/mail.ts';
import { smtpTransport } from '../../lib/channels/smtp.ts';
import { webhookCarrier } from '../../lib/channels/webhook.ts';
import type { Channel } from '../../lib/store/company.ts';
import { alertWith } from '../lib/channels/notices.ts';
import { mailPeer, type Peer, webhookPeer } from '../lib/channels/peers.ts';
import { batchOf, invocation, TIMEOUT_MS } from '../support/invocation.ts';
import { type TestTable, testTable } from '../support/table.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const UNIT = { companyId: 'acme', unitId: 'u-17' };
const ALERT_ID = 'no-flow-1772366400000';

let table: TestTable;
let mail: Peer;
let webhook: Peer;

beforeAll(async () => {
  table = await testTable();
  [mail, webhook] = await Promise.all([mailPeer(), webhookPeer(SECRET)]);
});
beforeEach(() => {
  for (const peer of [mail, webhook]) {
    peer.mood = 'takes';
    peer.taken.length = 0;
  }
});
afterEach(() => {
  vi.useRealTimers();
});
afterAll(async () => {
  await Promise.all([table, mail, webhook].map((each) => each.close()));
});

let notices = 0;
const nowhere = { send: async () => {} };

/** A notice that nobody has been told of yet. */
function newNotice(): NoticeMessage {
  notices += 1;
  const key = `${ALERT_ID}-raised-urgent-${notices}`;
  return {
    ...UNIT,
    key,
    change: 'raised',
    at: notices,
    alertId: ALERT_ID,
    alert: alertWith(),
    sequence: notices,
  };
}

const bothChannels = (): Channel[] => [
  { type: 'mail', to: ['dispatch@acme.example', 'boss@acme.example'] },
  { type: 'webhook', url: `http://127.0.0.1:${webhook.port}/hook`, secret: SECRET },
];

/** The function for a company of these channels; what it counts, and how it answers: the ids that come back. */
async function service({
  channels = bothChannels(),
  now = Date.now,
  sent = sentNotices(table.client, table.tableName),
} = {}) {
  await table.store.putCompany({ companyId: 'acme', name: 'Acme Water', channels, rules: {} });
  const counts = new Map<string, number>();
  const log = { debug: vi.fn(), info: vi.fn(), warn: vi.fn(), error: vi.fn() };
  const meter: Ports['meter'] = {
    count(counter, by, labels) {
      const name = [counter, ...Object.values(labels ?? {})].join(' ');
      counts.set(name, (counts.get(name) ?? 0) + by);
    },
  };
  const handler = notify(
    {
      store: table.store,
      now,
      meter,
      log,
      queues: { ingest: nowhere, assess: nowhere, notify: nowhere, archive: nowhere },
    },
    {
      carriers: {
        mail: mailCarrier({
          transport: smtpTransport(`smtp://127.0.0.1:${mail.port}`),
          from: 'alerts@brinebell.example',
          domain: 'brinebell.example',
        }),
        webhook: webhookCarrier({ privateAddresses: 'allowed' }),
      },
      sent,
      baseUrl: new URL('https://console.example'),
      answerSecret: async () => 'answers',
    },
  );
  const handle = async (event: SQSEvent) => {
    const { batchItemFailures } = await handler(event, invocation());
    return batchItemFailures.map(({ itemIdentifier }) => itemIdentifier);
  };
  return { handle, counts, log };
}

const NONE: string[] = [];

describe('notify', () => {
  it('tells every address of a company once, however often the message comes', async () => {
    const { handle, counts } = await service();
    const event = batchOf([newNotice()]);
    expect(await handle(event)).toEqual(NONE);
    expect(await handle(event)).toEqual(NONE);
    expect(mail.taken.map(({ to }) => to).sort()).toEqual(['boss@acme.example', 'dispatch@acme.example']);
    expect(webhook.taken).toHaveLength(1);
    expect(webhook.taken[0]?.text).toContain(`https://console.example/units/u-17/alerts/${ALERT_ID}`);
    expect(Object.fromEntries(counts)).toEqual({ 'notices_sent mail': 2, 'notices_sent webhook': 1 });
  });

  it('tells a change again that was withdrawn meanwhile, and each telling once', async () => {
    const { handle } = await service();
    const raised = newNotice();
    const { key, sequence } = newNotice();
    const withdrawn = { ...raised, key, change: 'withdrawn' as const, sequence };
    const { sequence: last } = newNotice();
    for (const message of [raised, withdrawn, { ...raised, sequence: last }]) {
      const event = batchOf([message]);
      expect(await handle(event)).toEqual(NONE);
      expect(await handle(event)).toEqual(NONE);
    }
    const types = webhook.taken.map(({ text }) => JSON.parse(text).type);
    expect(types).toEqual(['alert.raised', 'alert.withdrawn', 'alert.raised']);
    expect(new Set(webhook.taken.map(({ id }) => id)).size).toBe(3);
  });

  it('tells once where two are at it at the same time', async () => {
    const { handle } = await service();
    const event = batchOf([newNotice()]);
    const comeBack = await Promise.all([handle(event), handle(event), handle(event)]);
    // Whoever finds another at it cannot know how that ends, and asks for the message again.
    expect(comeBack.filter((ids) => ids.length === 0).length).toBeGreaterThanOrEqual(1);
    expect(await handle(event)).toEqual(NONE);
    expect([mail.taken.length, webhook.taken.length]).toEqual([2, 1]);
  });

  it('tells the others where one channel fails, and then only the one that had failed', async () => {
    const { handle, counts } = await service();
    const event = batchOf([newNotice()]);
    mail.mood = 'is busy';
    expect(await handle(event)).toEqual(['m-0']);
    expect([mail.taken.length, webhook.taken.length]).toEqual([0, 1]);
    mail.mood = 'takes';
    webhook.mood = 'refuses';
    expect(await handle(event)).toEqual(NONE);
    expect([mail.taken.length, webhook.taken.length]).toEqual([2, 1]);
    expect(counts.get('notices_failed mail')).toBe(2);
  });

  it('reports what is refused for good as failed, after one try, and says so in the log', async () => {
    const { handle, counts, log } = await service();
    webhook.mood = 'refuses';
    expect(await handle(batchOf([newNotice()]))).toEqual(['m-0']);
    expect(mail.taken).toHaveLength(2);
    expect(counts.get('notices_failed webhook')).toBe(1);
    expect(log.error).toHaveBeenCalledExactlyOnceWith(
      expect.any(String),
      expect.objectContaining({ channel: 'webhook', code: 'refused' }),
    );
  });

  it('reports what it has no means to send', async () => {
    const { handle } = await service({
      channels: [...bothChannels(), { type: 'sms', to: ['+15005550006'] }],
    });
    expect(await handle(batchOf([newNotice()]))).toEqual(['m-0']);
    expect([mail.taken.length, webhook.taken.length]).toEqual([2, 1]);
  });

  it('lets one message that is none not stop its neighbours', async () => {
    const { handle } = await service();
    expect(await handle(batchOf(['no JSON', newNotice(), { ...newNotice(), change: 'improved' }]))).toEqual([
      'm-0',
      'm-2',
    ]);
    expect([mail.taken.length, webhook.taken.length]).toEqual([2, 1]);
  });

  it('tells nobody of an alert while it is shelved', async () => {
    const until = 1_000;
    let now = until - 1;
    const { handle, counts } = await service({ now: () => now });
    await table.store.putAlert(UNIT, 1, ALERT_ID, alertWith());
    await table.store.putActs(UNIT, 1, ALERT_ID, [{ act: 'shelve', by: 'jo', at: 0, until }]);
    expect(await handle(batchOf([newNotice()]))).toEqual(NONE);
    expect([mail.taken.length, webhook.taken.length]).toEqual([0, 0]);
    expect(Object.fromEntries(counts)).toEqual({ notices_shelved: 1 });
    now = until;
    expect(await handle(batchOf([newNotice()]))).toEqual(NONE);
    expect([mail.taken.length, webhook.taken.length]).toEqual([2, 1]);
    await table.store.dropAlert(UNIT, 9, ALERT_ID);
  });

  it('repeats what was cut off between sending and writing it down, under the same id, and not for long', async () => {
    vi.useFakeTimers({ toFake: ['Date'] });
    const cutOff = await testTable();
    try {
      const sent = sentNotices(cutOff.client, cutOff.tableName);
      let isCut = true;
      // What has been sent is written down with an update; here the process ends before it.
      cutOff.client.middlewareStack.add(
        (next, { commandName }) =>
          async (args) => {
            if (isCut && commandName === 'UpdateItemCommand') throw new Error('the process has ended');
            return next(args);
          },
        { step: 'initialize' },
      );
      const { handle } = await service({ channels: bothChannels().slice(1), sent });
      const event = batchOf([newNotice()]);
      expect(await handle(event)).toEqual(['m-0']);
      isCut = false;
      expect(await handle(event)).toEqual(['m-0']);
      expect(webhook.taken).toHaveLength(1);
      vi.setSystemTime(Date.now() + TIMEOUT_MS + 1);
      expect(await handle(event)).toEqual(NONE);
      expect(await handle(event)).toEqual(NONE);
      const [first, second, ...more] = webhook.taken;
      expect(second?.id).toBe(first?.id);
      expect(second?.text).toBe(first?.text);
      expect(more).toEqual([]);
    } finally {
      await cutOff.close();
    }
  });
});
