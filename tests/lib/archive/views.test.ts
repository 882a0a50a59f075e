import { parse } from 'csv-parse/sync';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { StoredLines } from '../../../functions/archive/stored.ts';
import { report } from '../../../functions/report.ts';
import { FACT_COLUMNS } from '../../../lib/archive/factColumns.ts';
import { folderOf, partitionOf } from '../../../lib/archive/partition.ts';
import { VIEWS } from '../../../lib/archive/views.ts';
import { settle } from '../../../lib/replay/standing.ts';
import type { FlowDay } from '../../../shared/facts.ts';
import { readmit } from '../../../shared/readmit.ts';
import { readRecords } from '../../../shared/registry.ts';
import { formatLocalDate } from '../../../shared/time/localDate.ts';
import { toUnit } from '../../../shared/toUnit.ts';
import { archiveAll, archiveOnce, bodiesOf } from '../../support/archiving.ts';
import { flowDay, story, type Wire, wire, zoneOf } from '../../support/events.ts';
import { registryOf, unitRecord } from '../../support/fleet.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { Pipeline } from '../../support/pipeline.ts';
import { lines as smallLines, records as smallRecords } from '../../support/smallFleet.ts';
import { sqlArchive } from '../../support/sqlArchive.ts';

const COMPANY = 'fenwick-water';
let archive: Awaited<ReturnType<typeof sqlArchive>>;

beforeEach(async () => {
  archive = await sqlArchive();
});

afterEach(async () => {
  await archive.remove();
});

/** The same events, and some of them again with something else in them: known at the same instant, or later. */
const contradicted = fc
  .record({
    story,
    again: fc.array(
      fc.record({ of: fc.nat(), gallons: fc.nat(400), later: fc.constantFrom(0, 0, 1, 86_400_000) }),
      {
        minLength: 1,
        maxLength: 8,
      },
    ),
  })
  .map(({ story: { timeZone, events }, again }) => {
    const zone = zoneOf(timeZone);
    const copies = again.flatMap(({ of, gallons, later }): Wire[] => {
      const original = events[of % Math.max(1, events.length)];
      if (!original) return [];
      const known = Date.parse(original.recordedtime ?? original.time) + later;
      const date = Math.floor(Date.parse(original.time) / 86_400_000);
      return [
        { ...flowDay(zone, date, gallons), id: original.id, recordedtime: new Date(known).toISOString() },
      ];
    });
    return { timeZone, lines: [...events, ...copies].map((each) => JSON.stringify(each)) };
  });

describe('the views', () => {
  it('pick of copies and corrections the ones that stand by the contract, as the fold does', async () => {
    let conflicts = 0;
    let corrections = 0;
    await fc.assert(
      fc.asyncProperty(contradicted, async ({ timeZone, lines }) => {
        const [unit] = registryOf(unitRecord({ timeZone })).units.values();
        if (!unit) throw new Error('there is a unit');
        fc.pre(lines.length > 0);
        const own = await sqlArchive();
        try {
          await archiveOnce(own.files, bodiesOf(lines.map((line): StoredLines => ({ unit, lines: [line] }))));
          const received = lines.map((raw, line) => ({ line, raw, fact: readmit(raw, unit) }));
          const settled = settle(received);
          const standing = settled.standing.map(({ fact }) => fact);
          conflicts += settled.conflicts.length;
          const facts = await own.query('select event_id, kind, content from facts order by event_id');
          expect(facts.map(({ event_id, kind }) => `${event_id} ${kind}`)).toEqual(
            standing.map(({ id, kind }) => `${id} ${kind}`).sort(),
          );

          // Contract, section 1: of two flow days of one date the later time stands, then the greater id.
          const byDate = new Map<string, FlowDay>();
          const days = standing.flatMap((fact) => (fact.kind === 'flow-day' ? [fact] : []));
          for (const day of days.sort((a, b) => a.time - b.time || (a.id < b.id ? -1 : 1))) {
            byDate.set(formatLocalDate(day.date), day);
          }
          corrections += days.length - byDate.size;
          const rows = await own.query(
            'select local_date, event_id, volume_gal from flow_days order by local_date',
          );
          expect(rows).toEqual(
            [...byDate]
              .sort(([a], [b]) => (a < b ? -1 : 1))
              .map(([local_date, { id, gallons }]) => ({ local_date, event_id: id, volume_gal: gallons })),
          );
        } finally {
          await own.remove();
        }
      }),
      { numRuns: 30 },
    );
    expect(conflicts).toBeGreaterThan(0);
    expect(corrections).toBeGreaterThan(0);
  });

  it('add up to salt.csv of the same events, and do so when a unit has moved', async () => {
    const store = memoryStore();
    const records = [...readRecords(JSON.stringify(smallRecords)).records.values()];
    const now = Date.UTC(2026, 4, 3, 12);
    const pipeline = new Pipeline(
      store,
      () => 0.5,
      () => now,
    );
    await store.putCompany({ companyId: COMPANY, name: 'Fenwick', channels: [], rules: {} });
    await store.putRecords(COMPANY, records);
    for (const line of smallLines)
      await pipeline.receive({ companyId: COMPANY, unitId: null, receivedAt: now, line });
    await pipeline.drain();
    await archiveAll(archive.files, pipeline.stored);
    await report(pipeline.ports, archive.files)();

    const agrees = async () => {
      const { content } = await salt();
      const rows = await archive.query(
        `select ${Object.keys(content[0] ?? {}).join(', ')} from region_months order by region, month`,
      );
      expect(rows.length).toBe(content.length);
      rows.forEach((row, index) => {
        for (const [name, cell] of Object.entries(content[index] ?? {})) {
          // To the digits that salt.csv has.
          const digits = cell.split('.')[1]?.length ?? 0;
          const value = row[name];
          if (typeof value !== 'number') expect(value ?? '').toBe(cell);
          else expect(Math.abs(value - Number(cell)), name).toBeLessThanOrEqual(0.51 * 10 ** -digits);
        }
      });
      return content;
    };
    const salt = async () => {
      const file = await archive.files.open(`reports/${COMPANY}/salt.csv`);
      const text = new TextDecoder().decode(await file.slice(0));
      return { content: parse<Record<string, string>>(text, { columns: true }) };
    };
    const before = await agrees();
    expect(before.map(({ region, month }) => `${region} ${month}`)).toEqual([
      'alder-county 2026-03',
      'alder-county 2026-04',
      'alder-county 2026-05',
      'high-basin 2026-03',
      'high-basin 2026-04',
      'high-basin 2026-05',
    ]);
    expect(before[1]).toMatchObject({ unit_days: '0', unit_days_missing: '30' });
    const water = await archive.query('select sum(volume_gal) as water from flow_days');
    const reported = before.reduce((sum, row) => sum + Number(row.water_treated_gal), 0);
    expect(water[0]?.water).toBeCloseTo(reported, 0);

    // The region of its facts stays where they are, and its accounts go along.
    const [moved] = records;
    if (!moved) throw new Error('there is a unit');
    await store.putRecords(COMPANY, [{ ...moved, region: 'copper-flats' }]);
    const onlyPut = { ...archive.files, drop: async () => {} };
    await report({ ...pipeline.ports, now: () => now + 1000 }, onlyPut)();
    const during = await archive.query('select distinct region from unit_months order by region');
    expect(during.map(({ region }) => region)).toEqual(['copper-flats', 'high-basin']);
    await agrees();
    await report({ ...pipeline.ports, now: () => now + 2000 }, archive.files)();
    await agrees();
    expect(await archive.files.list(`accounts/company=${COMPANY}/region=alder-county/`)).toEqual([]);
  });

  it('have the columns and types that the catalogue says, in that order', async () => {
    const unit = toUnit(unitRecord() as Parameters<typeof toUnit>[0]);
    const level = JSON.stringify(
      wire('salt-level', 'e-1', Date.UTC(2026, 2, 3), { mass: { value: 3, unit: 'kg' } }),
    );
    const described = async () => {
      const views = [];
      for (const { name } of VIEWS) {
        const rows = await archive.query(
          `select column_name, lower(data_type) as type from duckdb_columns() where table_name = '${name}' order by column_index`,
        );
        views.push(rows.map(({ column_name, type }) => `${column_name} ${type}`));
      }
      return views;
    };
    const names = {
      text: 'varchar',
      integer: 'integer',
      count: 'bigint',
      double: 'double',
      boolean: 'boolean',
    };
    const types = { ...names, timestamp: 'timestamp', date: 'date' };
    const expected = VIEWS.map(({ columns }) => columns.map(({ name, type }) => `${name} ${types[type]}`));
    await archive.files.put('facts/none.txt', 'an archive that only begins');
    expect(await described()).toEqual(expected);
    await archiveOnce(archive.files, bodiesOf([{ unit, lines: [level] }]));
    expect(await described()).toEqual(expected);
  });

  it('keep ids that look like something else, and folders with signs in their names', async () => {
    const odd = await sqlArchive("it's [a] *b? 100%");
    try {
      const ids = ['007', '1e3', '2026-01-01', 'NULL', 'null', 'true', 'a..b', 'x-_.', '0'];
      for (const id of ids) {
        const unit = {
          ...toUnit(unitRecord() as Parameters<typeof toUnit>[0]),
          companyId: id,
          region: id,
          unitId: id,
        };
        const line = JSON.stringify(
          wire('salt-level', id, Date.UTC(2026, 2, 3), { mass: { value: 3, unit: 'kg' } }),
        );
        expect(await archiveOnce(odd.files, bodiesOf([{ unit, lines: [line] }]))).toEqual([]);
      }
      const rows = await odd.query('select company, region, month, unit_id, event_id from facts');
      expect(rows).toHaveLength(ids.length);
      expect(rows).toEqual(
        expect.arrayContaining(
          ids.map((id) => ({ company: id, region: id, month: '2026-03', unit_id: id, event_id: id })),
        ),
      );
    } finally {
      await odd.remove();
    }
  });

  it('give values in the trade’s units, whatever they were sent in', async () => {
    const unit = toUnit(unitRecord({ timeZone: 'America/Chicago' }) as Parameters<typeof toUnit>[0]);
    const at = Date.UTC(2026, 3, 1, 4);
    const sent = [
      wire('regeneration', 'r', at, { trigger: 'metered', water: { value: 0.2, unit: 'm3' } }),
      wire('settings', 's', at, {
        hardness: { value: 342, unit: 'mg/L' },
        capacity: { value: 24_000, unit: '[gr]' },
        regenerationHour: 2,
        clock: '02:30',
      }),
      wire('service-visit', 'v', at, {
        technician: 't-1',
        findings: ['a', 'b'],
        work: [],
        saltAdded: { value: 20, unit: 'kg' },
      }),
      flowDay(zoneOf('America/Chicago'), 20_543, 100, 'L'),
    ];
    await archiveOnce(archive.files, bodiesOf([{ unit, lines: sent.map((each) => JSON.stringify(each)) }]));
    // It was still March at the site; 0.2 m3 and 20 kg by the exact definitions of gallon and pound.
    expect(
      await archive.query(
        'select month, local_date, happened_at, water_gal, salt_before_lb from regenerations',
      ),
    ).toEqual([
      {
        month: '2026-03',
        local_date: '2026-03-31',
        happened_at: '2026-04-01 04:00:00',
        water_gal: expect.closeTo(200 / 3.785411784, 9),
        salt_before_lb: null,
      },
    ]);
    expect(await archive.query('select hardness_gpg, clock_minutes from settings')).toEqual([
      // A grain a gallon is 17.118 mg/L.
      { hardness_gpg: expect.closeTo(342 / 17.118, 3), clock_minutes: 150 },
    ]);
    expect(await archive.query('select technician, findings, work, salt_added_lb from visits')).toEqual([
      { technician: 't-1', findings: 'a; b', work: '', salt_added_lb: expect.closeTo(20 / 0.45359237, 9) },
    ]);
    const [day] = await archive.query('select local_date, volume_gal, month from flow_days');
    expect(day).toEqual({ local_date: '2026-03-31', volume_gal: expect.closeTo(100, 9), month: '2026-03' });
    expect(FACT_COLUMNS.map(({ name }) => name)).toContain('peak_flow_gpm');
  });
});

describe('partitions', () => {
  it('lead nowhere but into the archive, and are read back from the path', () => {
    const id = fc.oneof(
      fc.stringMatching(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/),
      fc.string({ unit: 'binary' }),
      fc.constantFrom(
        '..',
        '.',
        '',
        'a/b',
        'a=b',
        '../../etc',
        'a\\b',
        'a\0',
        'a\n',
        '%2e%2e',
        `a${'b'.repeat(64)}`,
      ),
    );
    const month = fc.oneof(
      fc.constantFrom('2026-01', '0000-12', '2026-13', '../..', '2026-1', ''),
      fc.string(),
    );
    fc.assert(
      fc.property(id, id, month, (companyId, region, date) => {
        const partition = { companyId, region, month: date };
        let folder: string;
        try {
          folder = folderOf('facts', partition);
        } catch (error) {
          expect(error).toMatchObject({ code: 'partition-impossible' });
          return;
        }
        expect(folder.split('/')).toEqual([
          'facts',
          `company=${companyId}`,
          `region=${region}`,
          `month=${date}`,
          '',
        ]);
        expect(folder).toMatch(
          /^facts\/company=[A-Za-z0-9][\w.-]*\/region=[A-Za-z0-9][\w.-]*\/month=\d{4}-\d\d\/$/,
        );
        expect(partitionOf(`${folder}1-x.parquet`)).toEqual({ table: 'facts', partition });
      }),
      { numRuns: 500 },
    );
  });
});
