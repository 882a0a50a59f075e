import { describe, expect, it } from 'vitest';
import { changed } from '../../functions/send.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { withReceipt } from '../../shared/withReceipt.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';
import { alertsOf, lastHeard, replayed } from '../support/replayed.ts';
import { lines, records } from '../support/smallFleet.ts';

const COMPANY = 'fenwick-water';
const record = records[2] as UnitRecord;
const unit = { companyId: COMPANY, unitId: record.unitId };
const own = lines.filter((line) => line.includes(`/units/${record.unitId}"`));
const RECEIVED = Date.parse('2026-06-01T00:00:00Z');
/** As the service keeps them. */
const kept = own.map((line) => withReceipt(line, RECEIVED));

async function setUp() {
  const store = memoryStore();
  const pipeline = new Pipeline(
    store,
    () => 0.999,
    () => RECEIVED,
  );
  await store.putCompany({ companyId: COMPANY, name: 'Fenwick', channels: [], rules: {} });
  await store.putRecords(COMPANY, [record]);
  for (const line of own) {
    await pipeline.receive({ ...unit, receivedAt: RECEIVED, line });
  }
  await pipeline.drain();
  return { store, pipeline };
}

const listed = async (store: ReturnType<typeof memoryStore>) =>
  Object.fromEntries((await store.alertsOf(unit)).map(({ alertId, alert }) => [alertId, alert]));

describe('a unit whose registry record changes', () => {
  it('is folded anew by the new one; people are told of what is open now, not of the past again', async () => {
    const { store, pipeline } = await setUp();
    const before = await listed(store);
    expect(Object.keys(before).length).toBeGreaterThan(0);
    const told = pipeline.notices.length;

    const harder = { ...record, hardness: { value: 60, unit: '[gr]/[gal_us]' as const } };
    await store.putRecords(COMPANY, [harder]);
    await pipeline.ports.queues.assess.send([changed(unit)]);
    await pipeline.drain();

    const whole = replayed(toUnit(harder), kept);
    const { stored } = await store.unit(unit, { fresh: true });
    expect(stored?.head).toMatchObject({ state: whole.head.state, open: whole.head.open });
    expect(await listed(store)).toEqual(alertsOf(toUnit(harder), whole));
    const isOpen = new Set(
      Object.keys(lastHeard(whole.transitions)).filter((id) => before[id] === undefined),
    );
    for (const { change, alertId } of pipeline.notices.slice(told)) {
      if (change === 'raised') expect(isOpen).toContain(alertId);
    }
    expect(pipeline.notices.slice(told).some(({ change }) => change === 'raised')).toBe(true);
  });

  it('is left as it is by a record that says the same', async () => {
    const { store, pipeline } = await setUp();
    const { version } = await store.unit(unit, { fresh: true });
    await store.putRecords(COMPANY, [record]);
    await pipeline.ports.queues.assess.send([changed(unit)]);
    await pipeline.drain();
    expect((await store.unit(unit, { fresh: true })).version).toBe(version);
  });
});

describe('a company whose rules change', () => {
  it('has its units judged by the new ones', async () => {
    const { store, pipeline } = await setUp();
    expect(Object.values(await listed(store)).some(({ kind }) => kind === 'no-flow')).toBe(true);
    const never = { 'no-flow': { routine: 1, soon: 1, soonAtStalledDays: 1e6 } };
    await store.putCompany({ companyId: COMPANY, name: 'Fenwick', channels: [], rules: never });
    await pipeline.ports.queues.assess.send([changed(unit)]);
    await pipeline.drain();
    expect(Object.values(await listed(store)).some(({ kind }) => kind === 'no-flow')).toBe(false);
    expect(pipeline.notices.at(-1)).toMatchObject({ change: 'withdrawn', alert: { kind: 'no-flow' } });
  });
});
