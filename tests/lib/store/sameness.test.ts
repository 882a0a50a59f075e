import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { DoneAct } from '../../../lib/live/alertActs.ts';
import { StoreError } from '../../../lib/store/errors.ts';
import { factKey } from '../../../lib/store/factKey.ts';
import type { Store } from '../../../lib/store/store.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { testTable } from '../../support/table.ts';
import { alertOf, headsOf, lineOf, outboxOf } from './examples.ts';

const [head] = headsOf('u-17');
const outbox = outboxOf('u-17');
const unit = fc.constantFrom('u-1', 'u-2');
const version = fc.integer({ min: 0, max: 4 });
const ALERT_IDS = ['a-1', 'a-2'];
const alertId = fc.constantFrom(...ALERT_IDS);
const acts = fc.array(
  fc.constantFrom<DoneAct>(
    { act: 'acknowledge', by: 'd-1', at: 1 },
    { act: 'unacknowledge', by: 'd-2', at: 2 },
    { act: 'shelve', by: 'd-1', at: 3, until: 5 },
    { act: 'unshelve', by: 'd-1', at: 4 },
  ),
  { maxLength: 4 },
);
const severity = fc.constantFrom('routine' as const, 'soon' as const, 'urgent' as const);
const clearedAt = fc.option(fc.constantFrom('2026-04-01T00:00:00.000Z', '2026-04-02T00:00:00.000Z'));

/** 1 March 2026, 16 March, when a unit may have moved, and 1 April. */
const first = fc.constantFrom(20_513, 20_528, 20_544);

/** One thing done to a store, on one of two units. */
type Step = (store: Store, companyId: string) => Promise<unknown>;

const step: fc.Arbitrary<Step> = fc.oneof(
  fc.tuple(unit, version, fc.boolean()).map(
    ([unitId, at, full]): Step =>
      async (store, companyId) => {
        if (head)
          await store.putHead({ companyId, unitId }, at, { head, basis: 'b', outbox: full ? outbox : null });
      },
  ),
  fc.tuple(unit, version).map(
    ([unitId, at]): Step =>
      (store, companyId) =>
        store.clearOutbox({ companyId, unitId }, at),
  ),
  fc.tuple(unit, version, alertId, severity, clearedAt).map(
    ([unitId, at, id, how, cleared]): Step =>
      (store, companyId) =>
        store.putAlert({ companyId, unitId }, at, id, alertOf({ unitId, severity: how, clearedAt: cleared })),
  ),
  fc.tuple(unit, version, alertId).map(
    ([unitId, at, id]): Step =>
      (store, companyId) =>
        store.dropAlert({ companyId, unitId }, at, id),
  ),
  fc.tuple(unit, alertId).map(
    ([unitId, id]): Step =>
      (store, companyId) =>
        store.putTold({ companyId, unitId }, id),
  ),
  fc.tuple(unit, version, alertId, acts).map(
    ([unitId, at, id, done]): Step =>
      (store, companyId) =>
        store.putActs({ companyId, unitId }, at, id, done),
  ),
  fc.tuple(unit, version, first, fc.nat(3)).map(
    ([unitId, at, from, regenerations]): Step =>
      async (store, companyId) => {
        if (head)
          await store.putMonth({ companyId, unitId }, at, { ...head.state.month, from, regenerations });
      },
  ),
  fc.tuple(unit, version, first).map(
    ([unitId, at, from]): Step =>
      (store, companyId) =>
        store.dropMonth({ companyId, unitId }, at, from),
  ),
  fc.tuple(unit, fc.constantFrom('v-1', 'v-2'), fc.boolean()).map(
    ([unitId, visitId, isPut]): Step =>
      async (store, companyId) => {
        if (!isPut) return store.dropVisit({ companyId, unitId }, visitId);
        const visit = { visitId, technician: 't', date: '2026-04-01', reason: '', by: 'd', at: 1 };
        return store.putVisit({ companyId, unitId }, visit);
      },
  ),
  fc.tuple(unit, fc.nat(2)).map(
    ([unitId, lb]): Step =>
      (store, companyId) => {
        const line = lineOf({ id: 'e-1', lb, known: 1 });
        return store.putFacts([{ unit: { companyId, unitId }, facts: [{ line, key: factKey(line).key }] }]);
      },
  ),
);

async function result(doing: Promise<unknown>): Promise<unknown> {
  return doing.catch((error) => (error instanceof StoreError ? error.code : Promise.reject(error)));
}

async function everything(store: Store, companyId: string) {
  const page = { limit: 100 };
  const units = ['u-1', 'u-2'].map(async (unitId) => {
    const of = { companyId, unitId };
    const [told, unit, alerts, months, visits, facts] = await Promise.all([
      Promise.all(ALERT_IDS.map((id) => store.wasTold(of, id))),
      store.unit(of, { fresh: true }),
      store.alertsOf(of),
      store.months(of),
      store.visits(of),
      store.facts(of, page),
    ]);
    return { told, unit, alerts, months, visits, facts };
  });
  const lists = [true, false].map((open) => store.alerts(companyId, open, page));
  return { units: await Promise.all(units), lists: await Promise.all(lists) };
}

test('whatever is done to them, the table and the memory say the same', async () => {
  const table = await testTable();
  let runs = 0;
  try {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 10, maxLength: 40 }), async (steps) => {
        const memory = memoryStore();
        const companyId = `company-${runs++}`;
        for (const take of steps) {
          expect(await result(take(table.store, companyId))).toEqual(await result(take(memory, companyId)));
        }
        expect(await everything(table.store, companyId)).toEqual(await everything(memory, companyId));
      }),
      { numRuns: 30 },
    );
  } finally {
    await table.close();
  }
});
