import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import { PREFIX, unitKey, unitPartition } from './keys.ts';
import type { Store } from './store.ts';

/** Visits that are planned to a unit. */
export function visitItems(access: Access): Pick<Store, 'putVisit' | 'dropVisit' | 'visits'> {
  return {
    async putVisit(unit, visit) {
      const key = unitKey(unit, `${PREFIX.visit}${visit.visitId}`);
      await access.put('putVisit', { ...key, json: JSON.stringify(visit) });
    },
    async dropVisit(unit, visitId) {
      const key = unitKey(unit, `${PREFIX.visit}${visitId}`);
      return unlessConflict(access.drop('dropVisit', key, { expression: 'attribute_exists(pk)' }));
    },
    async visits(unit) {
      const items = await access.all('visits', { partition: unitPartition(unit), prefix: PREFIX.visit });
      return items.map(({ json = '' }) => JSON.parse(json));
    },
  };
}
