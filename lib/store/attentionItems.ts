import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import { ATTENTION, LIST, unitKey } from './keys.ts';
import { notNewer } from './notNewer.ts';
import type { Store } from './store.ts';

/** A weight is below this; in so many steps of a thousandth it is ordered. */
const MOST_WEIGHT = 1e6;

/** Units that need attention, one row each, as of a version of the head. */
export function attentionItems(access: Access): Pick<Store, 'putAttention' | 'dropAttention' | 'attention'> {
  return {
    async putAttention(unit, version, row) {
      const order = Math.round((MOST_WEIGHT - Math.min(row.weight, MOST_WEIGHT)) * 1000);
      const changes = {
        lpk: LIST.attention(unit.companyId),
        lsk: `${String(order).padStart(10, '0')}#${unit.unitId}`,
        json: JSON.stringify(row),
        v: version,
      };
      await unlessConflict(
        access.update('putAttention', unitKey(unit, ATTENTION), changes, notNewer(version)),
      );
    },
    async dropAttention(unit, version) {
      const changes = { lpk: null, lsk: null, json: null, v: version };
      await unlessConflict(
        access.update('dropAttention', unitKey(unit, ATTENTION), changes, notNewer(version)),
      );
    },
    async attention(companyId, page) {
      const range = { partition: LIST.attention(companyId), listed: true };
      const { items, next } = await access.page('attention', range, page);
      return { items: items.map(({ json = '' }) => JSON.parse(json)), next };
    },
  };
}
