import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { serve } from '@hono/node-server';
import { describe, expect, it, vi } from 'vitest';
import { report } from '../../../functions/report.ts';
import { saltCsv } from '../../../lib/salt/saltCsv.ts';
import { StoreError } from '../../../lib/store/errors.ts';
import type { Store } from '../../../lib/store/store.ts';
import type { Alert, AlertKind } from '../../../shared/alerts.ts';
import { MAX_RAW_CHARACTERS } from '../../../shared/quarantine.ts';
import { flowDay, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { FIRST_DATE, linesOf, play } from '../../support/household.ts';
import { memoryFiles } from '../../support/memoryFiles.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { replayLines } from '../../support/replayLines.ts';
import { bodies, keyOf, live, NOW, service } from './service.ts';

const COMPANY = 'fenwick-water';
const zone = zoneOf('America/New_York');
/** The last day that is over at the service's now. */
const TODAY = zone.dateAt(NOW);

/** Two units over three months; what the second has known until now is what a replay ends with. */
const records = [unitRecord(), unitRecord({ unitId: 'u-18', region: 'high-basin', senses: [] })];
const story = play({ days: TODAY - FIRST_DATE, gallons: (day) => 120 + ((day * 37) % 90) });
const lines = [
  ...linesOf(story),
  ...linesOf(story.filter((_, index) => index % 3 > 0)).map((line) =>
    line.replace('units/u-17', 'units/u-18'),
  ),
];

async function fleet(store = memoryStore()) {
  await live(store, records, lines);
  return serviceOver(store);
}

async function serviceOver(store: Store) {
  const made = service(store);
  const key = await keyOf(made, COMPANY);
  const get = async (path: string) => {
    const response = await made.ask('GET', path, { key });
    return { status: response.status, headers: response.headers, text: await response.text() };
  };
  return { ...made, key, get, json: async (path: string) => JSON.parse((await get(path)).text) };
}

/** Follows a list page by page to its end. */
async function pages(get: Awaited<ReturnType<typeof fleet>>['get'], first: string): Promise<string[]> {
  const texts: string[] = [];
  for (let path: string | undefined = first; path !== undefined; ) {
    const { text, headers } = await get(path);
    texts.push(text);
    const next: string | undefined = text.startsWith('{"items"') ? JSON.parse(text).next : undefined;
    path = next
      ? `${first}&cursor=${encodeURIComponent(next)}`
      : headers.get('link')?.replace(/^<(.*)>; rel="next"$/, '$1');
  }
  return texts;
}

describe('a unit', () => {
  it('is shown with what a replay expects of it', async () => {
    const { json } = await fleet();
    const { forecasts } = replayLines(lines, registryOf(...records));
    const forecast = forecasts.findLast(({ unitId }) => unitId === 'u-17');
    expect(await json('/v1/units/u-17')).toEqual({
      record: unitRecord(),
      lastReported: forecast?.asOf,
      knownUntil: story.at(-1)?.recordedtime,
      forecast,
      alerts: [],
      visits: [],
    });
  });

  it('of which nothing is known yet is shown too', async () => {
    const made = service();
    const key = await keyOf(made, COMPANY);
    await made.ask('PUT', '/v1/units', { key, body: [unitRecord()] });
    const response = await made.ask('GET', '/v1/units/u-17', { key });
    expect(await response.json()).toMatchObject({ record: unitRecord(), lastReported: null, forecast: null });
  });
});

describe('lists', () => {
  it('are read page by page, everything once', async () => {
    const { get } = await fleet();
    const units = await pages(get, '/v1/units?limit=1');
    expect(units.flatMap((text) => JSON.parse(text).items)).toEqual(records);
    const events = (await pages(get, '/v1/units/u-18/events?limit=7')).join('');
    expect(events.trim().split('\n').sort()).toEqual(lines.filter((line) => line.includes('u-18')).sort());
  });

  it('refuse a cursor that is not theirs, and a limit that is none', async () => {
    const { get, json } = await fleet();
    const { next } = await json('/v1/units?limit=1');
    for (const path of [
      '/v1/units?cursor=x',
      `/v1/quarantine?cursor=${next}`,
      `/v1/units/u-17/events?cursor=${next}`,
    ]) {
      const { status, text } = await get(path);
      expect([path, status, JSON.parse(text).type]).toEqual([path, 400, '/problems/cursor-invalid']);
    }
    for (const limit of ['0', '1001', 'x', '1.5', '']) {
      const { text } = await get(`/v1/units?limit=${limit}`);
      expect(JSON.parse(text)).toMatchObject({ status: 400, errors: [{ parameter: 'limit' }] });
    }
  });

  it('of quarantined messages can be narrowed to a reason, which is found behind pages of others', async () => {
    const { store, json } = await fleet();
    const message = { companyId: COMPANY, sender: COMPANY, detail: '', raw: '' } as const;
    await store.putQuarantined([
      { ...message, reason: 'unknown-unit', receivedAt: NOW - 9000 },
      ...[1, 2, 3].map((index) => ({
        ...message,
        reason: 'not-json' as const,
        receivedAt: NOW - index,
        raw: `${index}`,
      })),
    ]);
    const found = await json('/v1/quarantine?limit=1&reason=unknown-unit');
    expect(found.items).toMatchObject([{ reason: 'unknown-unit' }]);
    expect((await json('/v1/quarantine')).items.map(({ raw }: { raw: string }) => raw)).toEqual([
      '1',
      '2',
      '3',
      '',
    ]);
  });
});

describe('messages that were set aside', () => {
  it('are sent again once each, those of one reason, but for what is kept in part only', async () => {
    const made = service();
    const key = await keyOf(made, COMPANY);
    const message = { companyId: COMPANY, sender: COMPANY, detail: '', receivedAt: NOW } as const;
    await made.store.putQuarantined([
      { ...message, reason: 'unknown-unit', raw: 'a' },
      { ...message, reason: 'unknown-unit', raw: 'a', receivedAt: NOW - 1 },
      { ...message, reason: 'unknown-unit', raw: 'b' },
      { ...message, reason: 'unknown-unit', raw: 'x'.repeat(MAX_RAW_CHARACTERS) },
      { ...message, reason: 'not-json', raw: 'c' },
      { ...message, reason: 'unknown-type', raw: 'd', sender: 'u-17' },
    ]);
    made.sent.ingest.length = 0;
    const answer = await made.ask('POST', '/v1/quarantine/retry', { key, body: { reason: 'unknown-unit' } });
    expect(await answer.json()).toEqual({ sent: 2, tooLong: 1 });
    const sent = bodies(made.sent.ingest);
    expect(sent.map(({ line }) => line).sort()).toEqual(['a', 'b']);
    expect(sent[0]).toMatchObject({ companyId: COMPANY, unitId: null, receivedAt: NOW });
    // What a meter has sent goes again as its own word, and not as the company's.
    made.sent.ingest.length = 0;
    await made.ask('POST', '/v1/quarantine/retry', { key, body: { reason: 'unknown-type' } });
    expect(bodies(made.sent.ingest)).toMatchObject([{ line: 'd', unitId: 'u-17' }]);
    // What is still wrong comes back by itself.
    const { items } = await made.store.quarantined(COMPANY, { limit: 9 });
    expect(items.map(({ raw }) => raw.slice(0, 2)).sort()).toEqual(['c', 'xx']);
  });
});

describe('salt accounts', () => {
  it('are those of a replay of the same events, until now', async () => {
    const { get, ports } = await fleet();
    // A replay ends with its last event: one of a company's unit that is never shown brings it to now.
    const clock = unitRecord({ unitId: 'u-99', region: 'zz-clock' });
    const tick = { ...flowDay(zone, TODAY - 1, 0), source: `/companies/${COMPANY}/units/u-99` };
    const { salt } = replayLines(
      [...lines, JSON.stringify({ ...tick, recordedtime: new Date(NOW).toISOString() })],
      registryOf(...records, clock),
    );
    const rows = salt.filter(({ region }) => region !== 'zz-clock');
    expect(rows.map(({ month }) => month)).toEqual([
      '2026-01',
      '2026-02',
      '2026-03',
      '2026-01',
      '2026-02',
      '2026-03',
    ]);
    const { text, headers } = await get('/v1/salt.csv');
    expect(text).toBe(saltCsv(rows));
    expect(headers.get('content-type')).toContain('text/csv');

    const { files, text: textOf } = memoryFiles();
    await report(ports, files)();
    expect(textOf(`reports/${COMPANY}/salt.csv`)).toBe(text);
  });

  it('of one company that cannot be written hold up no other', async () => {
    const made = await fleet();
    await keyOf(made, 'a-first');
    await keyOf(made, 'z-last');
    const { files } = memoryFiles();
    const run = report(made.ports, {
      ...files,
      put: async (name, content) => {
        if (name.startsWith(`reports/${COMPANY}`)) throw new Error('the disk is full');
        await files.put(name, content);
      },
    });
    await expect(run()).rejects.toThrow('1 reports failed');
    const ofEach = [
      'accounts-shared.csv',
      'accounts.csv',
      'accounts.json',
      'accounts.parquet',
      'dictionary.csv',
      'salt.csv',
    ];
    const paths = ['a-first', 'z-last'].flatMap((id) => ofEach.map((name) => `reports/${id}/${name}`));
    expect(await files.list('reports/')).toEqual(paths);
  });
});

describe('the health of the alerts', () => {
  const DAY = 86_400_000;
  const daysAgo = (days: number) => new Date(NOW - days * DAY).toISOString();

  /** A company with alerts that were raised and cleared so many days ago, and what was found of each. */
  async function withAlerts(
    ...given: [kind: AlertKind, raised: number, cleared: number | null, found?: string][]
  ) {
    const made = await serviceOver(memoryStore());
    for (const [index, [kind, raised, cleared, outcome]] of given.entries()) {
      const alert: Alert = {
        ...{ unitId: `u-${index}`, kind, cause: null, severity: 'soon', probability: 0.9, summary: 'seen' },
        raisedAt: daysAgo(raised),
        clearedAt: cleared === null ? null : daysAgo(cleared),
        history: [{ at: daysAgo(raised), severity: 'soon', probability: 0.9 }],
        evidence: outcome === undefined ? {} : { fieldOutcome: { at: daysAgo(1), outcome } },
      };
      await made.store.putAlert({ companyId: COMPANY, unitId: `u-${index}` }, 1, `${kind}-${index}`, alert);
    }
    return made;
  }

  it('counts what was raised in the window, and what stands from before it', async () => {
    const made = await withAlerts(
      ['overrun', 60, 45],
      ['overrun', 60, 20],
      ['overrun', 100, null],
      ['no-flow', 29, 25],
      ['no-flow', 10, null],
      ['no-flow', 0.5, null],
    );
    // More than a page of those that are over, all before the window.
    const [old] = await made.store.alertsOf({ companyId: COMPANY, unitId: 'u-0' });
    if (!old) throw new Error('there is no alert');
    const ref = { companyId: COMPANY, unitId: 'u-90' };
    for (let index = 0; index < 520; index++) {
      await made.store.putAlert(ref, 1, `overrun-${index}`, { ...old.alert, unitId: ref.unitId });
    }
    const alerts = vi.spyOn(made.store, 'alerts');
    const health = await made.json('/v1/alarm-health');
    expect(health).toMatchObject({
      from: daysAgo(30),
      until: daysAgo(0),
      ...{ windowDays: 30, alarms: 3, priorities: { soon: 3, urgent: 0, routine: 0 } },
      standing: { open: 3, attended: 0, stale: 2 },
    });
    expect(health.measures['alarms-per-day'].value).toBeCloseTo(3 / 30, 12);
    // Once past the window it reads no further.
    expect(alerts).toHaveBeenCalledTimes(2);
    expect((await made.json('/v1/alarm-health?days=90')).alarms).toBe(525);
  });

  it('says of each kind what technicians found; a visit without a word speaks neither way', async () => {
    const { json } = await withAlerts(
      ['overrun', 20, 10, 'confirmed'],
      ['overrun', 20, null, 'other-cause'],
      ['overrun', 20, 10, 'nothing-found'],
      ['overrun', 20, 10, 'no-word'],
      ['overrun', 20, 10],
      ['overrun', 50, 10, 'confirmed'],
      ['no-flow', 20, null, 'no-word'],
    );
    const { field } = await json('/v1/alarm-health');
    expect(field).toMatchObject([
      { kind: 'no-flow', visited: 0, visitedWithoutWord: 1, notVisited: 0, confirmed: { value: null } },
      { kind: 'overrun', visited: 3, visitedWithoutWord: 1, notVisited: 1 },
    ]);
    expect(field[1].confirmed.value).toBeCloseTo(1 / 3, 12);
    expect(field[1].somethingFound.value).toBeCloseTo(2 / 3, 12);
  });

  it('is asked for over a month to a year', async () => {
    const { get } = await serviceOver(memoryStore());
    for (const days of ['29', '367', '40.5', 'x', '']) {
      const { status, text } = await get(`/v1/alarm-health?days=${days}`);
      expect([days, status]).toEqual([days, 400]);
      expect(JSON.parse(text)).toMatchObject({ errors: [{ parameter: 'days' }] });
    }
    expect((await get('/v1/alarm-health?days=366')).status).toBe(200);
  });
});

describe('a backup', () => {
  it('put into an empty service gives the same registry and sends the same events', async () => {
    const { get } = await fleet();
    const restored = service();
    const key = await keyOf(restored, COMPANY);
    const type = 'application/x-ndjson';
    await restored.ask('PUT', '/v1/units', { key, type, body: (await get('/v1/backup/units.ndjson')).text });
    await restored.ask('POST', '/v1/events', {
      key,
      type,
      body: (await get('/v1/backup/events.ndjson')).text,
    });
    expect((await restored.store.records(COMPANY, { limit: 9 })).items).toEqual(records);
    const sent = restored.sent.ingest.map(({ body }): string => JSON.parse(body).line);
    expect(sent.sort()).toEqual([...lines].sort());
  });
});

describe('over HTTP', () => {
  /** Serves a fleet on a port of this machine while something is done with it. */
  async function served<Result>(
    made: Awaited<ReturnType<typeof fleet>>,
    use: (url: string, headers: Record<string, string>) => Promise<Result>,
  ): Promise<Result> {
    const server = serve({ fetch: made.app.fetch, port: 0, hostname: '127.0.0.1' });
    await once(server, 'listening');
    try {
      const { port } = server.address() as AddressInfo;
      return await use(`http://127.0.0.1:${port}`, { authorization: `Bearer ${made.key}` });
    } finally {
      server.close();
    }
  }

  it('events come in, backups go out, and bodies that are too large are refused however they come', async () => {
    const made = await fleet();
    await served(made, async (url, headers) => {
      const send = (body: string | ReadableStream, more: object = {}) =>
        fetch(`${url}/v1/events`, {
          ...{ method: 'POST', body, ...more },
          headers: { ...headers, 'content-type': 'application/x-ndjson' },
        });
      expect(await (await send(lines.join('\n'))).json()).toEqual({ received: lines.length });
      const large = `${lines[0]}\n`.repeat(6000);
      expect((await send(large)).status).toBe(413);
      const chunks = ReadableStream.from([1, 2, 3, 4].map(() => large.slice(0, 400_000))).pipeThrough(
        new TextEncoderStream(),
      );
      expect((await send(chunks, { duplex: 'half' })).status).toBe(413);
      const backup = await fetch(`${url}/v1/backup/events.ndjson`, { headers });
      expect((await backup.text()).trim().split('\n').sort()).toEqual([...lines].sort());
      expect(made.sent.ingest).toHaveLength(lines.length);
    });
  });

  it('a backup that fails on the way breaks off, and one that fails at once is a problem', async () => {
    const store = memoryStore();
    const made = await fleet(store);
    const { facts } = store;
    store.facts = async (unit, page) => {
      if (unit.unitId === 'u-18') throw new StoreError('unavailable', 'it does not answer');
      return facts(unit, page);
    };
    await served(made, async (url, headers) => {
      const backup = await fetch(`${url}/v1/backup/events.ndjson`, { headers });
      expect(backup.status).toBe(200);
      await expect(backup.text()).rejects.toThrow();
      store.records = async () => {
        throw new StoreError('throttled', 'no more for now');
      };
      const refused = await fetch(`${url}/v1/backup/events.ndjson`, { headers });
      expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '5']);
      expect((await fetch(`${url}/health`)).status).toBe(200);
    });
  });
});
