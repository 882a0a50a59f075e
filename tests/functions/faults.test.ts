import { describe, expect, it } from 'vitest';
import { Chance } from '../../lib/simulation/chance.ts';
import type { Store } from '../../lib/store/store.ts';
import { withReceipt } from '../../shared/admission.ts';
import { readRecords, toUnit } from '../../shared/registry.ts';
import { type Faults, faultyStore, type Happened } from '../support/faultyStore.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';
import { alertsOf, lastHeard, replayed } from '../support/replayed.ts';
import { lines, records } from '../support/smallFleet.ts';

const HOUR = 3_600_000;
/** One seed is one schedule: what comes when, in what batches, and what befalls which call to the table. */
const SCHEDULES = 300;
const FAULT_SHARE = 0.08;
/** Units whose events a schedule has, of three; the last always, for its meter stalls. */
const UNITS = 2;

async function run(seed: number, make: () => Promise<Store> | Store): Promise<Happened> {
  const chance = new Chance(seed, 77);
  const uniform = () => chance.uniform();
  const faults: Faults = { share: FAULT_SHARE, uniform };
  const sound = await make();
  const { store, happened } = faultyStore(sound, faults);
  const chosen = [...readRecords(JSON.stringify(records)).records.values()].slice(-UNITS);
  await sound.putCompany({ companyId: 'fenwick-water', name: 'Fenwick', channels: [], rules: {} });
  await sound.putRecords('fenwick-water', chosen);

  let clock = 0;
  const pipeline = new Pipeline(store, uniform, () => clock);
  const sent = lines.filter((line) => chosen.some(({ unitId }) => line.includes(`/units/${unitId}"`)));
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
  }
  return happened;
}

describe('the functions over a table that fails', () => {
  it('end in the states, alerts, accounts and notices of a replay, whatever befalls the table', async () => {
    const sums: Record<string, number> = {};
    for (let seed = 1; seed <= SCHEDULES; seed++) {
      const happened = await run(seed, memoryStore);
      for (const [mishap, times] of Object.entries(happened)) sums[mishap] = (sums[mishap] ?? 0) + times;
    }
    // Otherwise the schedules would say nothing.
    for (const times of Object.values(sums)) expect(times).toBeGreaterThan(SCHEDULES);
  }, 300_000);
});
