import fc from 'fast-check';
import { expect, it } from 'vitest';
import { knownMonths } from '../../functions/companySalt.ts';
import { changed } from '../../functions/send.ts';
import { Chance } from '../../lib/simulation/chance.ts';
import type { Store } from '../../lib/store/store.ts';
import { type UnitRecord, unitRecordSchema } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { formatLocalDate, type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { knownOf } from '../support/accountsOf.ts';
import { story, type Wire } from '../support/events.ts';
import { registryOf, unitRecord } from '../support/fleet.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';

const COMPANY = 'fenwick-water';
const DAY = 86_400_000;
const ref = { companyId: COMPANY, unitId: 'u-17' };

/** What a record says of where the unit was counted: not moved, or moved once or twice, by days of the story. */
const moves = fc
  .uniqueArray(fc.integer({ min: 0, max: 30 }), { maxLength: 2 })
  .map((each) => each.sort((a, b) => a - b));

const scripted = fc.record({
  story,
  /** Events that come once more under their ids as ones of another month, said to have been known before. */
  wrong: fc.array(fc.record({ event: fc.nat(200), days: fc.constantFrom(-70, -35, 40) }), { maxLength: 3 }),
  /** Records that come into force one after the other. */
  records: fc.array(moves, { minLength: 3, maxLength: 4 }),
  seed: fc.nat(1e6),
  silence: fc.constantFrom(0, 3, 70),
});

function recordOf(timeZone: string, first: LocalDate, days: readonly number[]): UnitRecord {
  const formerRegions = days.map((day, index) => ({
    region: `county-${index}`,
    until: formatLocalDate(first + day),
  }));
  return unitRecordSchema().parse(unitRecord({ timeZone, formerRegions }));
}

/** The same id on another date; the copy known first is the one that stands. */
function elsewhere(event: Wire, days: number): Wire {
  const time = Date.parse(event.time) + days * DAY;
  const date =
    typeof event.data.date === 'string' ? (parseLocalDate(event.data.date) ?? 0) + days : undefined;
  const known = Math.max(time, Date.parse(event.recordedtime ?? event.time) - 60_000);
  return {
    ...event,
    time: formatInstant(time),
    recordedtime: formatInstant(known),
    data: date === undefined ? event.data : { ...event.data, date: formatLocalDate(date) },
  };
}

async function fromStore(store: Store, until: number) {
  const known = [];
  for await (const page of knownMonths(store, COMPANY, until)) known.push(...page);
  return known.map(({ months, firstDate }) => ({ months, firstDate }));
}

it('knows of the months what a replay does, however events were batched and whatever the registry said before', async () => {
  const seen = { moved: 0, lost: 0 };
  await fc.assert(
    fc.asyncProperty(scripted, async ({ story: { timeZone, events }, wrong, records, seed, silence }) => {
      const copies =
        events.length === 0
          ? []
          : wrong.flatMap(({ event, days }) => {
              const copied = events[event % events.length];
              return copied ? [elsewhere(copied, days)] : [];
            });
      const sent = [...events, ...copies];
      const first = Math.floor(
        Math.min(...events.map(({ time }) => Date.parse(time)), Date.UTC(2027, 0)) / DAY,
      );
      const chance = new Chance(seed, 77);
      const uniform = () => chance.uniform();
      const store = memoryStore();
      const last = Math.max(0, ...sent.map(({ recordedtime }) => Date.parse(recordedtime ?? '')));
      const pipeline = new Pipeline(store, uniform, () => last + DAY);
      await store.putCompany({ companyId: COMPANY, name: 'Fenwick', channels: [], rules: {} });
      const until = last + silence * DAY;
      const lines: string[] = [];
      let kept = new Set<LocalDate>();

      const isSame = async (record: UnitRecord) => {
        await pipeline.drain();
        const [replay] = knownOf(lines, registryOf(record), until);
        const known = await fromStore(store, until);
        expect(known).toEqual([{ months: replay?.months, firstDate: replay?.firstDate }]);
        seen.moved += new Set(replay?.months.map(({ region }) => region)).size > 1 ? 1 : 0;
        // Nothing is kept in the table that is not among them.
        const all = new Set(replay?.months.map(({ from }) => from));
        const now = (await store.months(ref)).map(({ from }) => from);
        expect(now.filter((from) => !all.has(from))).toEqual([]);
        seen.lost += [...kept].some((from) => !now.includes(from)) ? 1 : 0;
        kept = new Set(now);
      };

      // Each record for as many of the events; the last for a while longer.
      for (const [index, days] of records.entries()) {
        const record = recordOf(timeZone, first, days);
        await store.putRecords(COMPANY, [record]);
        await pipeline.ports.queues.assess.send([changed(ref)]);
        if (lines.length > 0) await isSame(record);
        const part = sent.slice(
          Math.floor((index * sent.length) / records.length),
          Math.floor(((index + 1) * sent.length) / records.length),
        );
        for (const event of part) {
          const line = JSON.stringify(event);
          lines.push(line);
          await pipeline.receive({ ...ref, receivedAt: Date.parse(event.recordedtime ?? ''), line });
          if (uniform() < 0.1) await pipeline.drain();
        }
        if (lines.length > 0) await isSame(record);
      }
    }),
    { numRuns: 25 },
  );
  // Otherwise it would say nothing.
  expect(seen.moved).toBeGreaterThan(5);
  expect(seen.lost).toBeGreaterThan(0);
});
