import { connectAsync } from 'mqtt';
import { expect, test } from 'vitest';
import type { QuarantineReason } from '../../shared/quarantine.ts';
import { unitRecord } from '../support/fleet.ts';
import { runningService } from '../support/runningService.ts';

const COMPANY = 'fenwick-water';
const DAY = 86_400_000;

type Kind = QuarantineReason | 'repeated' | 'good';

const level = { mass: { value: 80, unit: '[lb_av]' } };

/** The event of a number: a level every ten minutes, since some day. */
function event(number: number, over: object = {}) {
  const time = new Date(Date.UTC(2026, 2, 1) + number * 600_000).toISOString();
  return {
    specversion: '1.0',
    id: `level-${number}`,
    source: `/companies/${COMPANY}/units/u-17`,
    type: 'brinebell.salt-level.v1',
    time,
    recordedtime: time,
    data: level,
    ...over,
  };
}

const JUNK: Record<Exclude<Kind, 'good'>, (number: number) => string> = {
  'too-large': (number) => JSON.stringify(event(number, { padding: 'x'.repeat(66_000) })),
  'not-json': (number) => `{"specversion":"1.0","id":"level-${number}"`,
  'not-an-event': (number) => JSON.stringify(event(number, { specversion: '0.3' })),
  'unknown-type': (number) => JSON.stringify(event(number, { type: `brinebell.weather.v${number}` })),
  'unknown-unit': (number) =>
    JSON.stringify(event(number, { source: `/companies/${COMPANY}/units/nobody-${number}` })),
  'wrong-company': (number) => JSON.stringify(event(number, { source: '/companies/tarn/units/u-17' })),
  'invalid-data': (number) => JSON.stringify(event(number, { data: { mass: { value: 'much' } } })),
  'in-the-future': (number) =>
    JSON.stringify(
      event(number, {
        time: new Date(Date.now() + (2 + number) * DAY).toISOString(),
        recordedtime: undefined,
      }),
    ),
  'conflicting-duplicate': (number) =>
    JSON.stringify(
      event(0, {
        data: { mass: { value: number, unit: 'kg' } },
        recordedtime: new Date(Date.UTC(2026, 2, 2) + number * 1000).toISOString(),
      }),
    ),
  repeated: () => JSON.stringify(event(0)),
};

test('ten thousand bad messages are each counted and kept with their reason; the good among them all land', async () => {
  const service = await runningService(COMPANY);
  const { ask, get } = service;
  await ask('PUT', '/v1/units', JSON.stringify([unitRecord(), unitRecord({ unitId: 'u-18' })]));

  const expected = new Map<string, number>();
  const count = (kind: string) => expected.set(kind, (expected.get(kind) ?? 0) + 1);
  const good: string[] = [];
  let bad = 0;
  const batches: string[][] = [];
  const kinds = Object.keys(JUNK) as (keyof typeof JUNK)[];
  for (let number = 1; bad < 9_000; number++) {
    const kind = kinds[number % kinds.length] ?? 'repeated';
    // The large ones are few: 60 of them are four megabytes.
    const chosen = kind === 'too-large' && number > 600 ? 'not-json' : kind;
    if (number % 16 === 1) batches.push([]);
    const batch = batches.at(-1);
    batch?.push(JUNK[chosen](number));
    count(chosen);
    bad += 1;
    if (number % 10 === 0) {
      batch?.push(JSON.stringify(event(number)));
      good.push(`level-${number}`);
    }
  }
  // The event that others repeat and contradict comes first, as it is known first.
  await ask('POST', '/v1/events', JSON.stringify(event(0)), 'application/cloudevents+json');
  good.push('level-0');
  // Several requests at a time, as they would come.
  const queue = [...batches];
  await Promise.all(
    Array.from({ length: 6 }, async () => {
      for (let batch = queue.shift(); batch; batch = queue.shift()) {
        await ask('POST', '/v1/events', batch.join('\n'), 'application/x-ndjson');
      }
    }),
  );
  // A meter that speaks for its neighbour, and in riddles.
  const meter = await connectAsync(
    service.mqttUrl,
    JSON.parse(await ask('POST', '/v1/units/u-18/credential')),
  );
  for (let number = 20_000; bad < 10_000; number++) {
    const misattributed = number % 2 === 0;
    const text = misattributed ? JSON.stringify(event(number)) : JUNK['not-json'](number);
    count(misattributed ? 'not-an-event' : 'not-json');
    bad += 1;
    await meter.publishAsync('units/u-18/events', text, { qos: 1 });
    if (number % 10 === 0) {
      const source = `/companies/${COMPANY}/units/u-18`;
      await meter.publishAsync('units/u-18/events', JSON.stringify(event(number, { source })), { qos: 1 });
      good.push(`level-${number}`);
    }
  }
  await meter.endAsync();
  await service.settled();

  const listed = new Map<string, number>();
  let cursor = '';
  do {
    const page = JSON.parse(await get(`/v1/quarantine?limit=500${cursor}`));
    for (const { reason, raw } of page.items) {
      listed.set(reason, (listed.get(reason) ?? 0) + 1);
      expect(raw.length).toBeLessThanOrEqual(1024);
    }
    cursor = page.next ? `&cursor=${encodeURIComponent(page.next)}` : '';
  } while (cursor);
  const { repeated, ...quarantined } = Object.fromEntries(expected);
  expect(Object.fromEntries([...listed].sort())).toEqual(
    Object.fromEntries(Object.entries(quarantined).sort()),
  );

  const metrics = await get('/metrics');
  for (const [reason, times] of Object.entries(quarantined)) {
    const [, counted] =
      new RegExp(`brinebell_events_quarantined_total{reason="${reason}"} (\\d+)`).exec(metrics) ?? [];
    // A conflict is met each time that its unit is looked at with it.
    if (reason === 'conflicting-duplicate') expect(Number(counted)).toBeGreaterThanOrEqual(times);
    else expect(Number(counted), reason).toBe(times);
  }
  const [, accepted] = /brinebell_events_accepted_total (\d+)/.exec(metrics) ?? [];
  expect(Number(accepted)).toBe(good.length + (repeated ?? 0) + (expected.get('conflicting-duplicate') ?? 0));
  const kept = (await get('/v1/backup/events.ndjson')).trim().split('\n');
  const ids = new Set(kept.map((line) => JSON.parse(line).id));
  expect(good.filter((id) => !ids.has(id))).toEqual([]);
  expect(ids.size).toBe(good.length);
  await service.stop();
}, 400_000);
