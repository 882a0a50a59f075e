import { expect, test } from 'vitest';
import type { Store } from '../../../lib/store/store.ts';
import { allOf, eventually, newUnit, refusal } from './asking.ts';
import { personOf, rowOf } from './examples.ts';

/** What every store does for the people of a company: their list, their visits, themselves and what they did. */
export function peopleContract(store: () => Store) {
  test('units that need attention are listed the worst first, as of the latest version of their heads', async () => {
    const { companyId } = newUnit();
    const at = (unitId: string) => ({ companyId, unitId });
    const mild = rowOf({ unitId: 'u-1', weight: 0.4 });
    const bad = rowOf({ unitId: 'u-2', weight: 31.25 });
    const worse = rowOf({ unitId: 'u-3', weight: 31.5 });
    await store().putAttention(at('u-1'), 3, mild);
    await store().putAttention(at('u-2'), 3, bad);
    await store().putAttention(at('u-3'), 3, worse);
    await store().putAttention(at('u-1'), 2, { ...mild, weight: 99 });
    const list = () => allOf(2, (page) => store().attention(companyId, page));
    await eventually(async () => expect(await list()).toEqual([worse, bad, mild]));
    await store().dropAttention(at('u-2'), 2);
    await store().dropAttention(at('u-3'), 4);
    await store().putAttention(at('u-3'), 3, worse);
    await eventually(async () => expect(await list()).toEqual([bad, mild]));
  });

  test('visits of a company are found by their day', async () => {
    const unit = newUnit();
    const visit = (visitId: string, date: string) => ({
      ...{ visitId, date, technician: 't', reason: 'r', by: 'd', at: 5 },
    });
    await store().putVisit(unit, visit('v-2', '2026-04-02'));
    await store().putVisit({ ...unit, unitId: 'u-18' }, visit('v-1', '2026-04-02'));
    await store().putVisit(unit, visit('v-3', '2026-04-03'));
    const on = (from: string, to: string) => store().visitsOn(unit.companyId, from, to);
    await eventually(async () =>
      expect(await on('2026-04-02', '2026-04-02')).toEqual([
        { unitId: 'u-18', visit: visit('v-1', '2026-04-02') },
        { unitId: unit.unitId, visit: visit('v-2', '2026-04-02') },
      ]),
    );
    expect(await on('2026-04-03', '2026-05-01')).toHaveLength(1);
    expect(await on('2026-04-04', '2026-05-01')).toEqual([]);
  });

  test('people are known by their mail, and are of one company', async () => {
    const { companyId } = newUnit();
    const other = newUnit().companyId;
    const person = personOf({ mail: `dana@${companyId}.example` });
    await store().putPerson(companyId, person);
    await store().putPerson(companyId, { ...person, role: 'owner' });
    await eventually(async () =>
      expect(await store().personOf(person.mail)).toEqual({
        companyId,
        person: { ...person, role: 'owner' },
      }),
    );
    expect(await refusal(store().putPerson(other, person))).toBe('refused');
    await store().dropPerson(other, person.mail);
    await eventually(async () => expect(await store().people(companyId)).toHaveLength(1));
    expect(await store().people(other)).toEqual([]);
    await store().dropPerson(companyId, person.mail);
    await store().dropPerson(companyId, person.mail);
    await eventually(async () => expect(await store().personOf(person.mail)).toBeUndefined());
  });

  test('what people did is kept, the latest first', async () => {
    const { companyId } = newUnit();
    const entries = [3, 1, 2].map((at) => ({
      by: 'd-1',
      at,
      what: `act ${at}`,
      unitId: null,
      detail: null,
    }));
    for (const entry of entries) await store().putAudited(companyId, entry);
    const list = await allOf(2, (page) => store().audited(companyId, page));
    expect(list.map(({ at }) => at)).toEqual([3, 2, 1]);
  });

  test('nothing of all that crosses to another company that has a unit of the same id', async () => {
    const ours = newUnit();
    const theirs = newUnit();
    const date = '2026-04-02';
    await store().putAttention(ours, 1, rowOf({ unitId: ours.unitId }));
    await store().putVisit(ours, { visitId: 'v-1', date, technician: 't', reason: 'r', by: 'd', at: 5 });
    const key = await store().putAudited(ours.companyId, {
      by: 'd',
      at: 1,
      what: 'w',
      unitId: null,
      detail: null,
    });
    await store().putPerson(ours.companyId, personOf({ mail: `dana@${ours.companyId}.example` }));
    await store().dropAttention(theirs, 9);
    await store().dropAudited(theirs.companyId, key);
    const page = { limit: 9 };
    const kept = async ({ companyId }: typeof ours) => [
      (await store().attention(companyId, page)).items.length,
      (await store().visitsOn(companyId, date, date)).length,
      (await store().audited(companyId, page)).items.length,
      (await store().people(companyId)).length,
    ];
    await eventually(async () => expect(await kept(ours)).toEqual([1, 1, 1, 1]));
    expect(await kept(theirs)).toEqual([0, 0, 0, 0]);
  });
}
