import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import { PREFIX, unitKey, unitPartition } from './keys.ts';
import { notNewer } from './notNewer.ts';
import type { Store } from './store.ts';

/** Salt accounts of the months of a unit that are over. */
export function monthItems(access: Access): Pick<Store, 'putMonth' | 'months'> {
  return {
    async putMonth(unit, version, account) {
      const key = unitKey(unit, `${PREFIX.month}${account.month}`);
      const item = { ...key, v: version, json: JSON.stringify(account) };
      await unlessConflict(access.put('putMonth', item, notNewer(version)));
    },
    async months(unit) {
      const items = await access.all('months', { partition: unitPartition(unit), prefix: PREFIX.month });
      return items.map(({ json = '' }) => JSON.parse(json));
    },
  };
}
