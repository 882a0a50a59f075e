import { expect, test } from 'vitest';
import { touchedSchema } from '../../functions/messages.ts';
import { sweep } from '../../functions/sweep.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { zoneNamed } from '../../shared/time/zone.ts';
import { unitRecord } from '../support/fleet.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { noLog } from '../support/pipeline.ts';

const MINUTE = 60_000;
const DAY = 86_400_000;
/** Zones east and west of all others, of odd offsets, and with a change of clocks within the days below. */
const ZONES = [
  'America/New_York',
  'Pacific/Kiritimati',
  'Pacific/Niue',
  'Asia/Kathmandu',
  'Australia/Lord_Howe',
  'Africa/Casablanca',
];

function setUp(start: number) {
  const store = memoryStore();
  const looks: { unitId: string; at: number }[] = [];
  const clock = { now: start };
  const assess = {
    send: async (messages: readonly { body: string }[]) => {
      for (const { body } of messages) {
        looks.push({ unitId: touchedSchema.parse(JSON.parse(body)).unitId, at: clock.now });
      }
    },
  };
  const nowhere = { send: async () => {} };
  const run = sweep({
    store,
    queues: { ingest: nowhere, assess, notify: nowhere, archive: nowhere },
    now: () => clock.now,
    meter: { count() {} },
    log: noLog,
  });
  const records = ZONES.map(
    (timeZone, index) => unitRecord({ unitId: `u-${index}`, timeZone }) as UnitRecord,
  );
  return { store, looks, clock, run, records };
}

/** How many whole hours the clocks of a zone show at an instant, and the date. */
function localTime(timeZone: string, instant: number) {
  const zone = zoneNamed(timeZone);
  if (!zone) throw new Error(`no zone ${timeZone}`);
  return { date: zone.dateAt(instant), hour: zone.hourAt(instant) };
}

test('each unit is looked at once a day, within a round after its own noon, though clocks change', async () => {
  for (const start of ['2026-03-06T00:07:00Z', '2026-04-03T00:07:00Z', '2026-10-30T00:07:00Z']) {
    const { store, looks, clock, run, records } = setUp(Date.parse(start));
    await store.putRecords('fenwick-water', records);
    await run();
    // The first run makes the last noon good, whenever that was.
    expect(looks.map(({ unitId }) => unitId).sort()).toEqual(records.map(({ unitId }) => unitId));
    looks.length = 0;
    const days = 5;
    for (let round = 0; round < (days * DAY) / (15 * MINUTE); round++) {
      clock.now += 15 * MINUTE;
      await run();
    }
    for (const { unitId, timeZone } of records) {
      const own = looks.filter((look) => look.unitId === unitId);
      const dates = own.map(({ at }) => localTime(timeZone, at).date);
      expect(new Set(dates).size, `${timeZone} from ${start}`).toBe(own.length);
      expect(own.length).toBeGreaterThanOrEqual(days - 1);
      for (const { at } of own) {
        const { hour } = localTime(timeZone, at);
        expect(hour).toBeGreaterThanOrEqual(12);
        expect(hour).toBeLessThan(12.26);
      }
    }
  }
});

test('a run that fails is made good by the next, and a new unit is found', async () => {
  const { store, looks, clock, run, records } = setUp(Date.parse('2026-06-10T00:00:00Z'));
  await store.putRecords('fenwick-water', records.slice(0, 1));
  await run();
  looks.length = 0;
  clock.now += DAY;
  const { rounds } = store;
  store.rounds = async () => Promise.reject(new Error('not now'));
  await expect(run()).rejects.toThrow();
  store.rounds = rounds;
  await store.putRecords('fenwick-water', records.slice(1, 2));
  await run();
  expect(looks.map(({ unitId }) => unitId)).toEqual(['u-0', 'u-1']);
});
