import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { companyAccounts } from '../../../functions/companyAccounts.ts';
import { report } from '../../../functions/report.ts';
import type { AccountCells } from '../../../lib/salt/account/accountsFile.ts';
import { SALT_ACCOUNT_COLUMNS } from '../../../lib/salt/account/columns.ts';
import { parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet } from '../../../lib/simulation/plan.ts';
import { simulateFleet } from '../../../lib/simulation/simulate.ts';
import { recordOf } from '../../../lib/simulation/wire.ts';
import type { UnitRecord } from '../../../shared/registry.ts';
import { flowDay, wire, zoneOf } from '../../support/events.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { Pipeline } from '../../support/pipeline.ts';
import { sqlArchive } from '../../support/sqlArchive.ts';

/** 2026-01-12. */
const START = 20_465;
const DAYS = 100;
const END = (START + DAYS + 3) * 86_400_000;

const plans = planFleet({ units: 10, days: DAYS, start: START, seed: 41, faults: parseFaultMix('balanced') });
const records = plans.map(({ profile }, index): UnitRecord => {
  const record = recordOf(profile);
  // Every third has moved within a month, and one of them back again.
  if (index % 3 !== 0) return record;
  const former = [{ region: 'old-mill', until: '2026-02-10' }];
  const back = [{ region: record.region, until: '2026-02-05' }, ...former];
  return { ...record, formerRegions: index === 3 ? back : former };
});
const COMPANY = records[0]?.companyId ?? '';
const units = records.map(({ unitId }) => unitId);

/** A fleet with what befalls one: corrections, silences, salt that was brought. */
async function lived() {
  const store = memoryStore();
  let now = END;
  const pipeline = new Pipeline(
    store,
    () => 0.5,
    () => now,
  );
  await store.putCompany({ companyId: COMPANY, name: 'A company', channels: [], rules: {} });
  await store.putRecords(COMPANY, records);
  const receive = async (lines: readonly string[]) => {
    for (const line of lines)
      await pipeline.receive({ companyId: COMPANY, unitId: null, receivedAt: now, line });
    await pipeline.drain();
  };
  const lines = [...simulateFleet(plans, { seed: 41, untidy: 0.1 })].flat();
  const about = (index: number) => `units/${units[index]}"`;
  await receive(
    lines.filter((line) => {
      const [, date = ''] = /"time":"(\d{4}-\d\d-\d\d)/.exec(line) ?? [];
      if (line.includes(about(1))) return date < '2026-03-03';
      return !line.includes(about(2)) || date < '2026-02-03' || date > '2026-03-20';
    }),
  );
  await receive([said(4, wire('service-visit', 'brought', END - 40 * 86_400_000, BROUGHT))]);
  return { store, pipeline, receive, wait: (ms: number) => (now += ms) };
}

const BROUGHT = { technician: 't-1', findings: [], work: [], saltAdded: { value: 80, unit: '[lb_av]' } };

function said(index: number, event: object): string {
  return JSON.stringify({ ...event, source: `/companies/${COMPANY}/units/${units[index]}` });
}

let archive: Awaited<ReturnType<typeof sqlArchive>>;
let fleet: Awaited<ReturnType<typeof lived>>;

beforeAll(async () => {
  archive = await sqlArchive();
  fleet = await lived();
});

afterAll(() => archive.remove());

const NAMES = SALT_ACCOUNT_COLUMNS.map(({ name }) => name).filter((name) => name !== 'as_of');

/** Holds what SQL adds up against what is exported, but for the order in which floating point numbers are added. */
async function agree(): Promise<readonly AccountCells[]> {
  const rows = await archive.query(`select ${NAMES.join(', ')} from region_accounts order by region, month`);
  const { items } = (await companyAccounts(fleet.store, COMPANY, fleet.pipeline.ports.now())).file();
  expect(rows.length).toBe(items.length);
  rows.forEach((row, index) => {
    for (const name of NAMES) {
      const [told, wanted] = [row[name], items[index]?.[name]];
      const of = [row.region, row.month, name];
      if (typeof wanted !== 'number') expect([...of, told]).toEqual([...of, wanted]);
      else
        expect([...of, told]).toEqual([
          ...of,
          expect.closeTo(wanted, 9 - Math.ceil(Math.log10(1 + Math.abs(wanted)))),
        ]);
    }
  });
  return items;
}

describe('the accounts of regions in SQL', () => {
  it('are those that are exported, of a fleet with moves, silences, corrections and deliveries', async () => {
    await report(fleet.pipeline.ports, archive.files)();
    const items = await agree();
    const sum = (name: string) => items.reduce((total, cells) => total + Number(cells[name]), 0);
    // All of it is in there.
    for (const name of [
      'unit_days_imputed',
      'salt_measured_lb',
      'salt_inferred_lb',
      'salt_imputed_lb',
      'water_imputed_gal',
    ])
      expect([name, sum(name)]).toEqual([name, expect.toSatisfy((value: number) => value > 0)]);
    expect(sum('salt_delivered_lb')).toBeGreaterThanOrEqual(80);
    expect(sum('salt_wasted_reserve_lb')).toBeGreaterThan(0);
    const split = await archive.query(
      "select unit_id from unit_months where month = '2026-02' group by unit_id having count(*) > 1",
    );
    expect(split.length).toBeGreaterThan(2);
    expect(new Set(items.map(({ month }) => month)).size).toBe(4);
  });

  it('rewrite no file in which nothing has changed; a late fact changes its month, and a restated region all months', async () => {
    const filesOf = async () => new Set(await archive.files.list('accounts/'));
    const before = await filesOf();
    fleet.wait(1000);
    await report(fleet.pipeline.ports, archive.files)();
    expect(await filesOf()).toEqual(before);

    // A day of February of a unit that has stayed where it is, corrected in April.
    const { region, timeZone } = records[5] ?? { region: '', timeZone: '' };
    const zone = zoneOf(timeZone);
    const late = flowDay(zone, START + 25, 2_000);
    await fleet.receive([
      said(5, {
        ...late,
        id: 'late',
        time: new Date(Date.parse(late.time) + 3.6e6).toISOString(),
        recordedtime: new Date(END).toISOString(),
      }),
    ]);
    await report(fleet.pipeline.ports, archive.files)();
    await agree();
    const after = await filesOf();
    const changed = [...after]
      .filter((path) => !before.has(path))
      .map((path) => path.split('/').slice(2, 4).join(' '));
    expect(changed).toContain(`region=${region} month=2026-02`);
    expect(changed.filter((path) => !path.includes(`region=${region} `) || path.endsWith('01'))).toEqual([]);
    expect(after.size).toBe(before.size);

    // The record says another region of all its past. A run that ends before it drops anything leaves old rows behind.
    const [record] = records.slice(5);
    if (!record) throw new Error('there is a unit');
    await fleet.store.putRecords(COMPANY, [{ ...record, region: 'new-quay' }]);
    fleet.wait(1000);
    await report(fleet.pipeline.ports, { ...archive.files, drop: async () => {} })();
    const regions = await archive.query(
      `select distinct region from unit_months where unit_id = '${record.unitId}'`,
    );
    expect(regions).toEqual([{ region: 'new-quay' }]);
    fleet.wait(1000);
    await report(fleet.pipeline.ports, archive.files)();
    await agree();
  });
});
