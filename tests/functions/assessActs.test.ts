import { expect, it } from 'vitest';
import { withActs } from '../../lib/live/alertActs.ts';
import { Chance } from '../../lib/simulation/chance.ts';
import type { Store } from '../../lib/store/store.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { formatInstant } from '../../shared/time/instant.ts';
import { toUnit } from '../../shared/toUnit.ts';
import { withReceipt } from '../../shared/withReceipt.ts';
import { wire } from '../support/events.ts';
import { type Faults, faultyStore } from '../support/faultyStore.ts';
import { memoryStore } from '../support/memoryStore.ts';
import { Pipeline } from '../support/pipeline.ts';
import { alertsOf, replayed } from '../support/replayed.ts';
import { lines, records } from '../support/smallFleet.ts';

const HOUR = 3_600_000;
const SCHEDULES = 60;
const record = records[2] as UnitRecord;
const unit = { companyId: record.companyId, unitId: record.unitId };
const own = lines.filter((line) => line.includes(`/units/${unit.unitId}"`) && !line.includes('salt-level'));

/** What somebody does next: about one of the alerts that are listed, or about the unit. */
async function actOf(chance: Chance, store: Store, now: number, id: string): Promise<string> {
  const listed = await store.alertsOf(unit);
  const alert = listed[Math.floor(chance.uniform() * listed.length)];
  const names = ['acknowledge', 'unacknowledge', 'shelve', 'unshelve'];
  const ofUnit = !alert || chance.happens(0.25);
  const act = ofUnit
    ? chance.happens(0.5)
      ? 'remove-from-service'
      : 'return-to-service'
    : (names[Math.floor(chance.uniform() * names.length)] ?? '');
  const until = formatInstant(now + chance.whole(1, 60) * HOUR);
  const data = { act, by: id, until, ...(!ofUnit && { alertId: alert.alertId }) };
  const source = `/companies/${unit.companyId}/units/${unit.unitId}`;
  return JSON.stringify({ ...wire('alert-act', id, now, data), source });
}

it('what people do comes to their alerts as a replay has it, over a store to whose calls everything happens', async () => {
  const seen = { acts: 0, suspended: 0 };
  for (let seed = 1; seed <= SCHEDULES; seed++) {
    const chance = new Chance(seed, 78);
    const uniform = () => chance.uniform();
    const faults: Faults = { share: 0, uniform };
    const sound = memoryStore();
    const { store } = faultyStore(sound, faults);
    await sound.putCompany({ companyId: unit.companyId, name: 'Fenwick', channels: [], rules: {} });
    await sound.putRecords(unit.companyId, [record]);
    let clock = 0;
    const pipeline = new Pipeline(store, uniform, () => clock);
    pipeline.onReceive = (receives) => {
      faults.share = receives > 25 ? 0 : 0.06;
    };
    const known: string[] = [];
    const held: string[] = [];
    const receive = async (line: string, unitId: string | null) => {
      known.push(withReceipt(line, clock));
      await pipeline.receive({ companyId: unit.companyId, unitId, receivedAt: clock, line });
    };
    for (const [index, line] of own.entries()) {
      const { time, recordedtime } = JSON.parse(line);
      clock = Math.max(clock, Date.parse(recordedtime ?? time) + 60_000);
      // Some days are held up: what was done meanwhile was done to alerts that then turn out otherwise.
      if (chance.happens(0.1)) held.push(line);
      else await receive(line, unit.unitId);
      if (chance.happens(0.1)) {
        for (const late of held.splice(0)) await receive(late, unit.unitId);
      }
      if (chance.happens(0.5)) await pipeline.drain();
      clock += chance.whole(1, 9) * HOUR;
      if (index > 16 && chance.happens(0.6)) {
        const act = await actOf(chance, sound, clock, `act-${index}`);
        await receive(act, null);
        clock += 2 * HOUR;
        if (chance.happens(0.2)) await receive(act, null);
      }
    }
    await pipeline.drain();

    const whole = replayed(toUnit(record), known);
    const { stored } = await sound.unit(unit, { fresh: true });
    const { state, open, recent, outOfService, knownUntil } = whole.head;
    expect(stored?.head, `schedule ${seed}`).toMatchObject({ state, open, recent, outOfService, knownUntil });
    expect(stored?.outbox).toBeNull();
    const alerts = await sound.alertsOf(unit);
    expect(Object.fromEntries(alerts.map(({ alertId, alert }) => [alertId, alert]))).toEqual(
      alertsOf(toUnit(record), whole),
    );
    for (const { alertId, acts, alert } of alerts) {
      const done = whole.acts.filter((each) => each.alertId === alertId).map((each) => each.done);
      expect(acts, `schedule ${seed}`).toEqual(withActs([], { since: null, acts: done }));
      seen.acts += acts.length;
      if (alert.evidence.endedBy === 'out-of-service') seen.suspended += 1;
    }
  }
  // Otherwise the comparison would say nothing.
  expect(seen.acts).toBeGreaterThan(SCHEDULES);
  expect(seen.suspended).toBeGreaterThan(3);
}, 120_000);
