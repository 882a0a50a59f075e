import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import { LIST, PREFIX, unitIdOf, unitKey, unitPartition } from './keys.ts';
import type { Store } from './store.ts';

/** Visits that are planned to a unit. */
export function visitItems(access: Access): Pick<Store, 'putVisit' | 'dropVisit' | 'visits' | 'visitsOn'> {
  return {
    async putVisit(unit, visit) {
      const key = unitKey(unit, `${PREFIX.visit}${visit.visitId}`);
      const listed = { lpk: LIST.visits(unit.companyId), lsk: `${visit.date}#${visit.visitId}` };
      await access.put('putVisit', { ...key, ...listed, json: JSON.stringify(visit) });
    },
    async dropVisit(unit, visitId) {
      const key = unitKey(unit, `${PREFIX.visit}${visitId}`);
      return unlessConflict(access.drop('dropVisit', key, { expression: 'attribute_exists(pk)' }));
    },
    async visits(unit) {
      const items = await access.all('visits', {
        partition: unitPartition(unit),
        prefix: PREFIX.visit,
        fresh: true,
      });
      return items.map(({ json = '' }) => JSON.parse(json));
    },
    async visitsOn(companyId, from, to) {
      // `$` is what comes after the `#` behind a date.
      const between = [from, `${to}$`] as const;
      const items = await access.all('visitsOn', {
        partition: LIST.visits(companyId),
        listed: true,
        between,
      });
      return items.map(({ pk, json = '' }) => ({ unitId: unitIdOf(pk), visit: JSON.parse(json) }));
    },
  };
}
