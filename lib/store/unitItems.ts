import { once } from '../../shared/once.ts';
import type { Head } from '../live/head.ts';
import type { Access } from './access.ts';
import { unlessConflict } from './failures.ts';
import type { Item } from './item.ts';
import { PREFIX, UNIT, unitKey, unitPartition } from './keys.ts';
import { pack, unpack } from './packed.ts';
import type { Condition } from './requests.ts';
import type { Store, StoredHead } from './store.ts';

/** A unit's head and record, read together, and the heads that were put away. */
export function unitItems(
  access: Access,
): Pick<Store, 'unit' | 'putHead' | 'clearOutbox' | 'putCheckpoints' | 'checkpoint'> {
  return {
    async unit(unit, { fresh }) {
      const range = { partition: unitPartition(unit), prefix: UNIT.often, fresh };
      const items = await access.all('unit', range);
      const head = items.find(({ sk }) => sk === UNIT.head);
      const record = items.find(({ sk }) => sk === UNIT.record);
      // Most who ask for a unit want its record, and a head takes longer to unpack than all else of it.
      const stored = once(() => head && storedHead(head));
      return {
        record: record?.json === undefined ? undefined : JSON.parse(record.json),
        get stored() {
          return stored();
        },
        version: head?.v ?? 0,
      };
    },
    async putHead(unit, version, { head, basis, outbox }) {
      const item = {
        ...unitKey(unit, UNIT.head),
        v: version + 1,
        head: pack(JSON.stringify(head)),
        basis,
        ...(outbox ? { outbox: pack(JSON.stringify(outbox)) } : {}),
      };
      await access.put('putHead', item, versionStands(version));
    },
    async clearOutbox(unit, version) {
      const key = unitKey(unit, UNIT.head);
      await unlessConflict(access.update('clearOutbox', key, { outbox: null }, versionStands(version)));
    },
    async putCheckpoints(unit, checkpoints) {
      const items = checkpoints.map(({ key, head }) => ({
        ...unitKey(unit, `${PREFIX.checkpoint}${key}`),
        head: pack(JSON.stringify(head)),
      }));
      await access.putAll('putCheckpoints', items);
    },
    async checkpoint(unit, name) {
      const key = unitKey(unit, `${PREFIX.checkpoint}${name}`);
      // Whoever knows the name has it from a head that was written later: a read that misses it is behind.
      const item = (await access.get('checkpoint', key)) ?? (await access.get('checkpoint', key, true));
      return item?.head && JSON.parse(unpack(item.head));
    },
  };
}

function versionStands(version: number): Condition {
  if (version === 0) return { expression: 'attribute_not_exists(v)' };
  return { expression: 'v = :version', values: { ':version': version } };
}

function storedHead({ head, basis = '', outbox }: Item): StoredHead | undefined {
  if (!head) return undefined;
  return {
    head: headOf(JSON.parse(unpack(head))),
    basis,
    outbox: outbox ? { handled: [], lostMonths: [], ...JSON.parse(unpack(outbox)) } : null,
  };
}

/** A head as it is today; one of before has not all members, and is followed anew, since the rules have changed with them. */
function headOf(stored: Head): Head {
  return {
    ...stored,
    recent: stored.recent ?? [],
    outOfService: stored.outOfService ?? null,
    open: stored.open.map((episode) => ({ ...episode, causes: episode.causes ?? [] })),
  };
}
