import { describe, expect, it } from 'vitest';
import { Chance } from '../../lib/simulation/chance.ts';
import { dynamoStore } from '../../lib/store/dynamoStore.ts';
import type { Store } from '../../lib/store/store.ts';
import { readRecords } from '../../shared/registry.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { withReceipt } from '../../shared/withReceipt.ts';
import { faultySender } from '../support/faultySender.ts';
import { type Faults, faultyStore, type Happened } from '../support/faultyStore.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';
import { alertsOf, lastHeard, replayed } from '../support/replayed.ts';
import { lines, records } from '../support/smallFleet.ts';
import { testTable } from '../support/table.ts';

const HOUR = 3_600_000;
/** One seed is one schedule: what comes when, in what batches, and what befalls which call to the table. */
const SCHEDULES = 300;
/** The same on a table, where each call takes some milliseconds. */
const TABLE_SCHEDULES = 20;
const FAULT_SHARE = 0.06;
/** So often a message may come back before the table is well for once. */
const PATIENCE = 25;
/** A table that fails as its faults have it, and the same for looking into. */
interface FailingTable {
  readonly store: Store;
  readonly sound: Store;
}

/** Runs a schedule; returns how many changes of alerts there were to tell. */
async function run(seed: number, make: (faults: Faults) => Promise<FailingTable>): Promise<number> {
  const chance = new Chance(seed, 77);
  const uniform = () => chance.uniform();
  const faults: Faults = { share: 0, uniform };
  const { store, sound } = await make(faults);
  const chosen = [...readRecords(JSON.stringify(records)).records.values()].slice(chance.whole(1, 2));
  await sound.putCompany({ companyId: 'fenwick-water', name: 'Fenwick', channels: [], rules: {} });
  await sound.putRecords('fenwick-water', chosen);

  let clock = 0;
  const pipeline = new Pipeline(store, uniform, () => clock);
  // A table does not fail for ever: one that did would keep any message.
  pipeline.onReceive = (receives) => {
    faults.share = receives > PATIENCE ? 0 : FAULT_SHARE;
  };
  // Without the levels, which are half of the events and raise no alert here.
  const sent = lines.filter((line) => {
    const { source, type } = JSON.parse(line);
    return !type.includes('salt-level') && chosen.some(({ unitId }) => source.endsWith(`/${unitId}`));
  });
  const known: string[] = [];
  for (const line of sent) {
    const { source, time, recordedtime } = JSON.parse(line);
    clock = Math.max(clock, Date.parse(recordedtime ?? time) + 60_000);
    const unitId = String(source).split('/').at(-1) ?? null;
    const receive = async (text: string) => {
      known.push(withReceipt(text, clock));
      await pipeline.receive({ companyId: 'fenwick-water', unitId, receivedAt: clock, line: text });
    };
    await receive(line);
    if (chance.happens(0.08)) {
      // A meter that has had no answer sends again, and one that has lost its count says something else.
      clock += 30 * HOUR;
      const event = { ...JSON.parse(line), recordedtime: undefined };
      const other = new Date(Date.parse(time) - chance.whole(0, 60) * HOUR).toISOString();
      await receive(JSON.stringify(chance.happens(0.7) ? event : { ...event, time: other }));
    }
    if (chance.happens(0.2)) await pipeline.drain();
  }
  await pipeline.drain();

  let transitions = 0;
  for (const record of chosen) {
    const ref = { companyId: record.companyId, unitId: record.unitId };
    const unit = toUnit(record);
    const whole = replayed(
      unit,
      known.filter((line) => line.includes(`/units/${unit.unitId}"`)),
    );
    const { stored } = await sound.unit(ref, { fresh: true });
    const { state, open, knownUntil } = whole.head;
    expect(stored?.head, `schedule ${seed}`).toMatchObject({ state, open, knownUntil });
    expect(stored?.outbox).toBeNull();
    const alerts = await sound.alertsOf(ref);
    expect(Object.fromEntries(alerts.map(({ alertId, alert }) => [alertId, alert]))).toEqual(
      alertsOf(unit, whole),
    );
    const told = pipeline.notices.filter(({ unitId }) => unitId === unit.unitId);
    expect(lastHeard(told), `schedule ${seed}`).toEqual(lastHeard(whole.transitions));
    expect(told.map(({ key }) => key)).toEqual(
      expect.arrayContaining(whole.transitions.map(({ key }) => key)),
    );
    const months = await sound.months(ref);
    const closed = whole.months.filter(({ month }) => month !== state.month.month);
    expect(months).toEqual(closed);
    transitions += whole.transitions.length;
  }
  return transitions;
}

describe('the functions end in the states, alerts, accounts and notices of a replay', () => {
  it('over a store to whose calls everything happens', async () => {
    const sums: Record<string, number> = {};
    let transitions = 0;
    for (let seed = 1; seed <= SCHEDULES; seed++) {
      const sound = memoryStore();
      let happened: Happened | undefined;
      transitions += await run(seed, async (faults) => {
        const faulty = faultyStore(sound, faults);
        happened = faulty.happened;
        return { store: faulty.store, sound };
      });
      for (const [mishap, times] of Object.entries(happened ?? {}))
        sums[mishap] = (sums[mishap] ?? 0) + times;
    }
    // Otherwise the schedules would say nothing.
    for (const times of Object.values(sums)) expect(times).toBeGreaterThan(SCHEDULES / 2);
    expect(transitions).toBeGreaterThanOrEqual(SCHEDULES);
  }, 300_000);

  it('over a DynamoDB table to whose commands everything happens', async () => {
    const counted = { faults: 0 };
    for (let seed = 1001; seed <= 1000 + TABLE_SCHEDULES; seed++) {
      const table = await testTable();
      await run(seed, async (faults) => ({
        store: dynamoStore({
          client: faultySender(table.client, faults, counted),
          tableName: table.tableName,
          pause: async () => {},
        }),
        sound: table.store,
      }));
      await table.close();
    }
    expect(counted.faults).toBeGreaterThan(5 * TABLE_SCHEDULES);
  }, 300_000);
});
