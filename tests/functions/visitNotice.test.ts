import { afterAll, beforeAll, beforeEach, expect, test } from 'vitest';
import { notifySchema, type VisitNoticeMessage } from '../../functions/noticeMessages.ts';
import { notify } from '../../functions/notify.ts';
import type { Outgoing, Ports } from '../../functions/ports.ts';
import { visitNotice } from '../../functions/send.ts';
import { sentNotices } from '../../functions/sentNotices.ts';
import { sweep } from '../../functions/sweep.ts';
import { mailCarrier } from '../../lib/channels/mail.ts';
import { type ShortMessage, smsCarrier } from '../../lib/channels/sms.ts';
import { smtpTransport } from '../../lib/channels/smtp.ts';
import type { Person } from '../../lib/store/person.ts';
import type { Visit } from '../../lib/store/store.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { mailPeer, type Peer } from '../lib/channels/peers.ts';
import { unitRecord } from '../support/fleet.ts';
import { batchOf, invocation } from '../support/invocation.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { noLog } from '../support/pipeline.ts';
import { lines, records } from '../support/smallFleet.ts';
import { type TestTable, testTable } from '../support/table.ts';
import { live } from './api/service.ts';

const COMPANY = 'fenwick-water';
const UNIT = { companyId: COMPANY, unitId: 'u-19' };
const MINUTE = 60_000;
const DAY = 86_400_000;
const TOMAS: Person = {
  personId: 'tech-4',
  mail: 'tomas@fenwick.example',
  name: 'Tomas Ruiz',
  role: 'technician',
  sms: '+15005550006',
  locale: 'en-US',
  units: 'us',
};
const VISIT: Visit = {
  visitId: 'v-1',
  technician: 'tech-4',
  date: '2026-03-31',
  reason: 'Meter <seems> stalled',
  by: 'Dana',
  at: 0,
};
/** The day before the visit, at noon of the site. */
const THE_DAY_BEFORE = Date.parse('2026-03-30T16:00:00Z');

let table: TestTable;
let mail: Peer;
const short: ShortMessage[] = [];
const clock = { now: THE_DAY_BEFORE };
let handle: (...messages: readonly (VisitNoticeMessage | Outgoing)[]) => Promise<string[]>;

beforeAll(async () => {
  table = await testTable();
  mail = await mailPeer();
  await table.store.putCompany({ companyId: COMPANY, name: 'Fenwick Water', channels: [], rules: {} });
  await live(
    table.store,
    records.map((record) => ({ ...record, site: { name: 'בית המלון (הגדול)' } })),
    lines,
  );
  await table.store.putPerson(COMPANY, TOMAS);
  const nowhere = { send: async () => {} };
  const ports: Ports = {
    store: table.store,
    now: () => clock.now,
    meter: { count() {} },
    log: noLog,
    queues: { ingest: nowhere, assess: nowhere, notify: nowhere, archive: nowhere },
  };
  const told = notify(ports, {
    carriers: {
      mail: mailCarrier({
        transport: smtpTransport(`smtp://127.0.0.1:${mail.port}`),
        from: 'alerts@brinebell.example',
        domain: 'brinebell.example',
      }),
      sms: smsCarrier({ send: async (message) => void short.push(message) }),
    },
    sent: sentNotices(table.client, table.tableName),
    baseUrl: new URL('https://console.example'),
    answerSecret: async () => 'answers',
  });
  handle = async (...messages) => {
    const bodies = messages.map((message) => ('body' in message ? message.body : message));
    const { batchItemFailures } = await told(batchOf(bodies), invocation());
    return batchItemFailures.map(({ itemIdentifier }) => itemIdentifier);
  };
});
beforeEach(() => {
  mail.taken.length = 0;
  short.length = 0;
  clock.now = THE_DAY_BEFORE;
});
afterAll(() => Promise.all([table.close(), mail.close()]));

let visits = 0;
/** A visit that nobody has been told of yet. */
async function planned(over: Partial<Visit> = {}): Promise<Visit> {
  visits += 1;
  const visit = { ...VISIT, visitId: `v-${visits}`, ...over };
  await table.store.putVisit(UNIT, visit);
  return visit;
}

/** The parts of a mail as they came over the wire, by their media types. */
function partsOf(mailed: string): Map<string, Buffer> {
  const parts = new Map<string, Buffer>();
  for (const [, type = '', headers = '', body = ''] of mailed.matchAll(
    /\r\nContent-Type: ((?:text|application)\/\w+)([\s\S]*?)\r\n\r\n([\s\S]*?)\r\n--/g,
  )) {
    const encoded = /base64/.test(headers)
      ? Buffer.from(body, 'base64')
      : Buffer.from(
          body
            .replace(/=\r\n/g, '')
            .replace(/=([0-9A-F]{2})/g, (_, hex) => String.fromCharCode(Number.parseInt(hex, 16))),
          'latin1',
        );
    parts.set(type, encoded);
  }
  return parts;
}

test('the technician gets the brief as text, page and sheet, and a short message; however often it is asked, once', async () => {
  const visit = await planned();
  const message = visitNotice(UNIT, visit, 'planned');
  expect(await handle(message)).toEqual([]);
  expect(await handle(message, message)).toEqual([]);
  expect(mail.taken.map(({ to }) => to)).toEqual(['tomas@fenwick.example']);
  const parts = partsOf(mail.taken[0]?.text ?? '');
  expect([...parts.keys()].sort()).toEqual(['application/pdf', 'text/html', 'text/plain']);
  expect(parts.get('text/plain')?.toString()).toContain('Meter <seems> stalled');
  const html = parts.get('text/html')?.toString() ?? '';
  expect(html).toContain('Meter &lt;seems&gt; stalled');
  expect(html).toContain('בית המלון (הגדול)');
  expect(html).toContain('Tomas Ruiz');
  const pdf = parts.get('application/pdf')?.toString('latin1') ?? '';
  expect(pdf).toMatch(/^%PDF-1\.\d[\s\S]*%%EOF\n?$/);
  // Letter, for somebody in the United States.
  expect(pdf).toContain('/MediaBox [0 0 612 792]');
  expect(mail.taken[0]?.text).toMatch(/filename="?visit-brief-2026-03-31\.pdf/);
  expect(short.map(({ to, text }) => ({ to, text }))).toEqual([
    {
      to: '+15005550006',
      text: 'Planned visit, Tue 31 Mar 2026, site site-u-19: Meter <seems> stalled https://console.example/units/u-19/brief',
    },
  ]);
  // The morning is an occasion of its own.
  clock.now += DAY;
  expect(await handle(visitNotice(UNIT, visit, 'morning'))).toEqual([]);
  expect([mail.taken.length, short.length]).toEqual([2, 2]);
  expect(short[1]?.text).toContain('Visit today');
});

test('nobody is told of a visit that is off, on another day by now, or of a morning that is not today', async () => {
  const [off, moved, later] = [await planned(), await planned(), await planned()];
  await table.store.dropVisit(UNIT, off.visitId);
  await table.store.putVisit(UNIT, { ...moved, date: '2026-04-02' });
  expect(
    await handle(
      visitNotice(UNIT, off, 'planned'),
      visitNotice(UNIT, moved, 'planned'),
      visitNotice(UNIT, later, 'morning'),
      visitNotice(UNIT, await planned({ technician: 'tech-nobody' }), 'planned'),
    ),
  ).toEqual([]);
  clock.now += 2 * DAY;
  expect(await handle(visitNotice(UNIT, later, 'morning'), visitNotice(UNIT, later, 'planned'))).toEqual([]);
  expect([mail.taken.length, short.length]).toEqual([0, 0]);
});

test('where one way fails, only that way is tried again', async () => {
  const message = visitNotice(UNIT, await planned(), 'planned');
  mail.mood = 'is busy';
  expect(await handle(message)).toEqual(['m-0']);
  expect([mail.taken.length, short.length]).toEqual([0, 1]);
  mail.mood = 'takes';
  expect(await handle(message)).toEqual([]);
  expect([mail.taken.length, short.length]).toEqual([1, 1]);
});

test('a message of before there were visits is still read', () => {
  const old = {
    ...{ ...UNIT, key: 'k', change: 'raised', at: 1, alertId: 'no-flow-1', sequence: 1 },
    alert: {
      ...{ unitId: 'u-19', kind: 'no-flow', cause: null, severity: 'soon', raisedAt: '2026-03-01T12:00:00Z' },
      ...{ clearedAt: null, probability: 1, summary: 's', evidence: {} },
      history: [{ at: '2026-03-01T12:00:00Z', severity: 'soon', probability: 1 }],
    },
  };
  expect(notifySchema.parse(old)).toEqual(old);
  expect(() => notifySchema.parse({ ...old, about: 'visit' })).toThrow();
});

/** Zones east and west of all others, of odd offsets, and with a change of clocks within the days below. */
const ZONES = [
  'America/New_York',
  'Pacific/Kiritimati',
  'Pacific/Niue',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
];

test.each(['2026-03-06T00:07:00Z', '2026-04-03T00:07:00Z', '2026-10-30T00:07:00Z'])(
  'from %s each visit is told of once, at six in the morning of its site, though runs are missed',
  async (start) => {
    const store = memoryStore();
    const time = { now: Date.parse(start) };
    const told: { visitId: string; at: number }[] = [];
    const nowhere = { send: async () => {} };
    const send = async (messages: readonly Outgoing[]) => {
      for (const { body } of messages) {
        const message = notifySchema.parse(JSON.parse(body));
        if (message.about === 'visit') told.push({ visitId: message.visitId, at: time.now });
      }
    };
    const run = sweep({
      store,
      queues: { ingest: nowhere, assess: nowhere, notify: { send }, archive: { send } },
      now: () => time.now,
      meter: { count() {} },
      log: noLog,
    });
    const all = ZONES.map((timeZone, index) => unitRecord({ unitId: `u-${index}`, timeZone }) as UnitRecord);
    await store.putRecords(COMPANY, all);
    await run();
    const days = 5;
    const first = Math.floor(time.now / DAY) + 2;
    for (const { unitId } of all) {
      for (let day = 0; day < days - 1; day++) {
        const date = new Date((first + day) * DAY).toISOString().slice(0, 10);
        await store.putVisit(
          { companyId: COMPANY, unitId },
          { ...VISIT, visitId: `${unitId}_${date}`, date },
        );
      }
    }
    for (let round = 0; round < ((days + 3) * DAY) / (15 * MINUTE); round++) {
      time.now += 15 * MINUTE;
      // Every now and then the service is down for an hour or two.
      if (round % 40 < 33) await run();
    }
    expect(told.map(({ visitId }) => visitId).sort()).toEqual(
      all
        .flatMap(({ unitId }) =>
          Array.from(
            { length: days - 1 },
            (_, day) => `${unitId}_${new Date((first + day) * DAY).toISOString().slice(0, 10)}`,
          ),
        )
        .sort(),
    );
    for (const { visitId, at } of told) {
      const [unitId, date] = visitId.split('_');
      const zone = zoneNamed(all.find((record) => record.unitId === unitId)?.timeZone ?? '');
      if (!zone) throw new Error('this runtime has no time zones');
      expect(new Date(zone.dateAt(at) * DAY).toISOString().slice(0, 10)).toBe(date);
      const hour = zone.hourAt(at);
      expect(hour).toBeGreaterThanOrEqual(6);
      // A quarter of an hour, and the eight runs at the most that are missed in a row.
      expect(hour).toBeLessThan(6 + 2.25);
    }
  },
);
