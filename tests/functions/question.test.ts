import fc from 'fast-check';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { answerToken, readAnswerToken } from '../../functions/answerToken.ts';
import { apiApp } from '../../functions/api/app.ts';
import { passwordCredentials } from '../../functions/meters/credentials.ts';
import { notify } from '../../functions/notify.ts';
import { sentNotices } from '../../functions/sentNotices.ts';
import { mailCarrier } from '../../lib/channels/mail.ts';
import { smtpTransport } from '../../lib/channels/smtp.ts';
import { septetsOf } from '../../lib/channels/text/gsm.ts';
import { questionSms } from '../../lib/channels/text/question.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { mailPeer, type Peer } from '../lib/channels/peers.ts';
import { flowDay, regeneration, type Wire, zoneOf } from '../support/events.ts';
import { unitRecord } from '../support/fleet.ts';
import { batchOf, invocation } from '../support/invocation.ts';
import { Pipeline } from '../support/pipeline.ts';
import { type TestTable, testTable } from '../support/table.ts';

const DAY = 86_400_000;
const SECRET = 'what signs the links';
const HOUSEHOLD = 'somebody@home.example';
const DISPATCH = 'dispatch@fenwick.example';
const FIRST_DAY = 20_500;
const DAYS_AT_HOME = 45;

let table: TestTable;
let mail: Peer;

beforeAll(async () => {
  [table, mail] = await Promise.all([testTable(), mailPeer()]);
});
beforeEach(() => {
  mail.mood = 'takes';
  mail.taken.length = 0;
});
afterAll(async () => {
  await Promise.all([table.close(), mail.close()]);
});

let companies = 0;

/** A unit whose meter falls silent-as-zero after a steady life, on the whole service but its queues' persistence. */
async function steadyHome(household: UnitRecord['household']) {
  companies += 1;
  const companyId = `fenwick-${companies}`;
  const clock = { now: 0 };
  const pipeline = new Pipeline(
    table.store,
    () => 0.5,
    () => clock.now,
  );
  const ports = pipeline.ports;
  const record = unitRecord({ companyId, unitId: 'u-17', ...(household && { household }) }) as UnitRecord;
  const zone = zoneOf(record.timeZone);
  await table.store.putCompany({
    companyId,
    name: 'Fenwick Water',
    channels: [{ type: 'mail', to: [DISPATCH] }],
    rules: {},
  });
  await table.store.putRecords(companyId, [record]);
  const carriers = {
    mail: mailCarrier({
      transport: smtpTransport(`smtp://127.0.0.1:${mail.port}`),
      from: 'b@b.example',
      domain: 'b.example',
    }),
  };
  const handler = notify(ports, {
    carriers,
    sent: sentNotices(table.client, table.tableName),
    baseUrl: new URL('https://water.example/brinebell'),
    answerSecret: async () => SECRET,
  });
  const app = apiApp(ports, {
    health: async () => ({ ok: true }),
    answerSecret: async () => SECRET,
    credentials: passwordCredentials(ports.store),
  });

  const tellAll = async () => {
    await pipeline.drain();
    for (const notice of pipeline.notices.splice(0)) {
      // Twice, as a queue may hand it out.
      for (let time = 0; time < 2; time++) {
        const { batchItemFailures } = await handler(batchOf([notice]), invocation());
        expect(batchItemFailures).toEqual([]);
      }
    }
    await pipeline.drain();
  };
  const send = async (event: Wire) => {
    clock.now = Date.parse(event.recordedtime ?? event.time);
    const line = JSON.stringify({ ...event, source: `/companies/${companyId}/units/u-17` });
    await pipeline.receive({ companyId, unitId: 'u-17', receivedAt: clock.now, line });
    await tellAll();
  };
  let counted = 0;
  const live = async (day: number, gallons: number) => {
    // The control of this record counts 1,000 gallons down and holds back about 150.
    if (counted >= 850) {
      await send(regeneration(zone, FIRST_DAY + day, 2));
      counted = 0;
    }
    counted += gallons;
    await send(flowDay(zone, FIRST_DAY + day, gallons));
  };
  for (let day = 0; day < DAYS_AT_HOME; day++) {
    await live(day, 140 + 30 * Math.sin(day) + (day % 7 === 0 ? 40 : 0));
  }
  const alerts = async () =>
    (await table.store.alertsOf({ companyId, unitId: 'u-17' })).map(({ alert }) => alert);
  const facts = async () =>
    (await table.store.facts({ companyId, unitId: 'u-17' }, { limit: 500 })).items.map(
      ({ line }): { type: string; data: Record<string, unknown> } => JSON.parse(line),
    );
  return { live, tellAll, alerts, facts, app, clock };
}

/** Lets days without flow pass until somebody is told something. */
async function untilTold(home: Awaited<ReturnType<typeof steadyHome>>): Promise<number> {
  for (let day = DAYS_AT_HOME; day < DAYS_AT_HOME + 30; day++) {
    await home.live(day, 0);
    if (mail.taken.length === 0) continue;
    // People take their time.
    home.clock.now += DAY / 3;
    return day;
  }
  throw new Error('nobody was told within 30 days');
}

/** The link in a mail, whose lines SMTP may have folded. */
function pathOf(text: string): string {
  const link = /https:\/\/water\.example\/brinebell(\/answer\/[^\s]+)/.exec(text.replace(/=\r\n/g, ''));
  return (link?.[1] ?? '').replace(/=3D/g, '=');
}

describe('a household whose meter registers nothing', () => {
  it('is asked once, alone, and its tap that it is at home sends a technician', async () => {
    const home = await steadyHome({ mail: HOUSEHOLD });
    await untilTold(home);
    expect(mail.taken.map(({ to }) => to)).toEqual([HOUSEHOLD]);
    expect((await home.facts()).filter(({ type }) => type === 'brinebell.question.v1')).toMatchObject([
      { data: { step: 'asked' } },
    ]);
    const path = pathOf(mail.taken[0]?.text ?? '');
    const page = await home.app.request(path);
    expect(page.status).toBe(200);
    expect(page.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(await page.text()).toContain('We are at home');
    // Looking at it has said nothing.
    expect((await home.facts()).some(({ type }) => type === 'brinebell.at-home.v1')).toBe(false);
    mail.taken.length = 0;
    const answered = await home.app.request(path, {
      method: 'POST',
      body: new URLSearchParams({ answer: 'at-home' }),
    });
    expect(answered.status).toBe(200);
    await home.tellAll();
    expect((await home.facts()).some(({ type }) => type === 'brinebell.at-home.v1')).toBe(true);
    expect((await home.alerts()).map(({ kind, severity }) => ({ kind, severity }))).toEqual([
      { kind: 'no-flow', severity: 'soon' },
    ]);
    expect(mail.taken.map(({ to }) => to)).toEqual([DISPATCH]);
  });

  it('is left alone until the day that it gives, which clears the alert without anybody having been sent', async () => {
    const home = await steadyHome({ mail: HOUSEHOLD });
    const day = await untilTold(home);
    const path = pathOf(mail.taken[0]?.text ?? '');
    const until = new Date((FIRST_DAY + day + 20) * DAY).toISOString().slice(0, 10);
    const answer = (words: Record<string, string>) =>
      home.app.request(path, { method: 'POST', body: new URLSearchParams(words) });
    for (const wrong of [{ answer: 'away', until: '2020-01-01' }, { answer: 'away' }, { answer: 'maybe' }]) {
      expect((await answer(wrong as Record<string, string>)).status).toBe(400);
    }
    expect((await answer({ answer: 'away', until })).status).toBe(200);
    await home.tellAll();
    for (let later = day + 1; later < day + 19; later++) await home.live(later, 0);
    expect((await home.alerts()).map(({ severity, clearedAt }) => [severity, clearedAt === null])).toEqual([
      ['routine', false],
    ]);
    // It was not told of the question; that it is over is no secret.
    expect(mail.taken.filter(({ to, text }) => to === DISPATCH && !text.includes('Over'))).toEqual([]);
  });

  it('cannot be reached: the company is told, and asks', async () => {
    const home = await steadyHome(undefined);
    await untilTold(home);
    expect(mail.taken.map(({ to }) => to)).toEqual([DISPATCH]);
    expect((await home.facts()).some(({ type }) => type === 'brinebell.question.v1')).toBe(false);
  });
});

describe('the link by which a household answers', () => {
  it('is taken for as long as it says and as it was signed only', async () => {
    const home = await steadyHome({ mail: HOUSEHOLD });
    await untilTold(home);
    const path = pathOf(mail.taken[0]?.text ?? '');
    expect((await home.app.request(path.replace('u-17', 'u-18'))).status).toBe(410);
    home.clock.now += 70 * DAY;
    expect((await home.app.request(path)).status).toBe(410);
    expect(
      (await home.app.request(path, { method: 'POST', body: new URLSearchParams({ answer: 'at-home' }) }))
        .status,
    ).toBe(410);
  });

  it('says what it was made of, and nothing once a character of it is another', () => {
    const id = fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/);
    const asked = fc.record({ companyId: id, unitId: id, since: fc.nat(40_000), until: fc.nat(40_000) });
    fc.assert(
      fc.property(asked, fc.nat(), fc.constantFrom(...'aZ09._-~'), (of, at, by) => {
        const token = answerToken(of, SECRET);
        expect(encodeURIComponent(token)).toBe(token);
        expect(readAnswerToken(token, SECRET)).toEqual(of);
        expect(readAnswerToken(token, `${SECRET}.`)).toBeUndefined();
        const place = at % token.length;
        const other = `${token.slice(0, place)}${by}${token.slice(place + 1)}`;
        // The last character of 16 bytes in base64url has bits to spare, which say nothing.
        if (other !== token && place < token.length - 1)
          expect(readAnswerToken(other, SECRET)).toBeUndefined();
      }),
    );
  });

  it('fits into one short message with the words around it', () => {
    const at = formatInstant(Date.UTC(2026, 2, 1)).slice(0, 10);
    const link = `https://water.example/answer/${answerToken({ companyId: 'fenwick-water', unitId: 'unit-0017', since: 20_500, until: 20_560 }, SECRET)}`;
    const text = questionSms({ companyName: 'Fenwick Water', since: Date.parse(at) / DAY, link });
    expect(septetsOf(text)).toBeLessThanOrEqual(160);
    expect(text).toContain(link);
  });
});
