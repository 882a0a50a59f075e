import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { NoticeMessage } from '../../functions/noticeMessages.ts';
import { notify } from '../../functions/notify.ts';
import { sentNotices } from '../../functions/sentNotices.ts';
import { mailCarrier } from '../../lib/channels/mail.ts';
import { smtpTransport } from '../../lib/channels/smtp.ts';
import { webhookCarrier } from '../../lib/channels/webhook.ts';
import type { Store } from '../../lib/store/store.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { alertWith } from '../lib/channels/notices.ts';
import { mailPeer, type Peer, webhookPeer } from '../lib/channels/peers.ts';
import { unitRecord } from '../support/fleet.ts';
import { batchOf, invocation } from '../support/invocation.ts';
import { noLog } from '../support/pipeline.ts';
import { type TestTable, testTable } from '../support/table.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const NOON = Date.UTC(2026, 2, 10, 17);
const MINUTE = 60_000;

let table: TestTable;
let mail: Peer;
let webhook: Peer;

beforeAll(async () => {
  [table, mail, webhook] = await Promise.all([testTable(), mailPeer(), webhookPeer(SECRET)]);
});
beforeEach(() => {
  for (const peer of [mail, webhook]) peer.taken.length = 0;
});
afterAll(async () => {
  await Promise.all([table, mail, webhook].map((each) => each.close()));
});

let companies = 0;

/** A company of 40 units in each of two regions, of which some have fallen silent at a noon. */
async function company(silent: readonly number[]) {
  companies += 1;
  const companyId = `acme-${companies}`;
  const records = Array.from({ length: 80 }, (_, n) =>
    unitRecord({ companyId, unitId: `u-${n}`, region: n < 40 ? 'alder-county' : 'high-basin' }),
  ) as UnitRecord[];
  await table.store.putRecords(companyId, records);
  await table.store.putCompany({
    companyId,
    name: 'Acme Water',
    rules: {},
    channels: [
      { type: 'mail', to: ['dispatch@acme.example'] },
      { type: 'webhook', url: `http://127.0.0.1:${webhook.port}/hook`, secret: SECRET },
    ],
  });
  const messages: NoticeMessage[] = [];
  for (const n of silent) {
    const raisedAt = formatInstant(NOON);
    const unitId = `u-${n}`;
    const alert = alertWith({
      ...{ unitId, kind: 'silent-unit', cause: null, severity: 'routine', raisedAt },
      history: [{ at: raisedAt, severity: 'routine', probability: 0.9 }],
    });
    const alertId = `silent-unit-${NOON}`;
    await table.store.putAlert({ companyId, unitId }, 1, alertId, alert);
    const key = `${alertId}-raised-routine-${NOON}`;
    messages.push({ companyId, unitId, alertId, alert, key, change: 'raised', at: NOON, sequence: n });
  }
  let lists = 0;
  const alerts: Store['alerts'] = (...asked) => {
    lists += 1;
    return table.store.alerts(...asked);
  };
  const handler = notify(
    {
      store: { ...table.store, alerts },
      now: () => NOON + MINUTE,
      meter: { count() {} },
      log: noLog,
      queues: { ingest: { send }, assess: { send }, notify: { send }, archive: { send } },
    },
    {
      carriers: {
        mail: mailCarrier({
          transport: smtpTransport(`smtp://127.0.0.1:${mail.port}`),
          from: 'b@b.example',
          domain: 'b.example',
        }),
        webhook: webhookCarrier({ privateAddresses: 'allowed' }),
      },
      sent: sentNotices(table.client, table.tableName),
      baseUrl: new URL('https://console.example'),
      answerSecret: async () => 'answers',
    },
  );
  const tell = async (sentAt: number, what: readonly NoticeMessage[] = messages) => {
    const { batchItemFailures } = await handler(batchOf(what, sentAt), invocation());
    return batchItemFailures.length;
  };
  /** Has the alerts withdrawn by a later version of their units' heads, and returns the notices of that. */
  const withdraw = async (): Promise<NoticeMessage[]> => {
    for (const { unitId, alertId } of messages) {
      await table.store.dropAlert({ companyId, unitId }, 2, alertId);
    }
    return messages.map((each) => ({
      ...each,
      key: each.key.replace('raised', 'withdrawn'),
      change: 'withdrawn',
      sequence: each.sequence + 100,
    }));
  };
  return { tell, withdraw, lists: () => lists };
}

async function send(): Promise<void> {}

it('is told of once where many units of a region fall silent together, however often the messages come', async () => {
  const { tell, lists } = await company(Array.from({ length: 25 }, (_, n) => n));
  // Whoever finds another at it asks for the message again.
  await tell(NOON);
  expect(await tell(NOON)).toBe(0);
  expect(mail.taken).toHaveLength(1);
  expect(mail.taken[0]?.text.replace(/=\r\n/g, '')).toContain('25 of 40 units in alder-county');
  expect(webhook.taken.map(({ text }) => JSON.parse(text).type)).toEqual(['fleet.silent']);
  expect(JSON.parse(webhook.taken[0]?.text ?? '{}').data.unitIds).toHaveLength(25);
  // The company's alerts are read for all of them together: one page that are open, one that are over.
  expect(lists()).toBe(2);
});

it('is told of unit by unit where one falls silent here and one there', async () => {
  const { tell } = await company([3, 44]);
  expect(await tell(NOON)).toBe(0);
  expect(mail.taken).toHaveLength(2);
  expect(webhook.taken.map(({ text }) => JSON.parse(text).type)).toEqual(['alert.raised', 'alert.raised']);
});

it('waits a while for the others of its region', async () => {
  const { tell } = await company([3, 4]);
  expect(await tell(NOON + MINUTE - 10_000)).toBe(2);
  expect([mail.taken.length, webhook.taken.length]).toEqual([0, 0]);
  expect(await tell(NOON)).toBe(0);
  expect(mail.taken).toHaveLength(2);
});

it('is not told of where it was taken back before anybody heard of it, nor that it was', async () => {
  const { tell, withdraw } = await company([3, 44]);
  expect(await tell(NOON + MINUTE - 10_000)).toBe(2);
  const withdrawn = await withdraw();
  expect(await tell(NOON)).toBe(0);
  expect(await tell(NOON, withdrawn)).toBe(0);
  expect([mail.taken.length, webhook.taken.length]).toEqual([0, 0]);
});

it('is told to be none after all where somebody has heard of it', async () => {
  const { tell, withdraw } = await company([3]);
  expect(await tell(NOON)).toBe(0);
  expect(await tell(NOON, await withdraw())).toBe(0);
  expect(mail.taken).toHaveLength(2);
  expect(webhook.taken.map(({ text }) => JSON.parse(text).type)).toEqual(['alert.raised', 'alert.withdrawn']);
});
