import type { Access } from './access.ts';
import { factsOf } from './factKey.ts';
import type { Item } from './item.ts';
import { PREFIX, unitKey, unitPartition } from './keys.ts';
import type { Store, StoredFact } from './store.ts';

/** Facts: put without condition, since one key always holds the same content. */
export function factItems(access: Access): Pick<Store, 'putFacts' | 'copies' | 'facts'> {
  return {
    async putFacts(unit, facts) {
      await access.putAll(
        'putFacts',
        facts.map(({ key, line }) => ({ ...unitKey(unit, `${PREFIX.fact}${key}`), line })),
      );
    },
    async copies(unit, eventId, including) {
      const range = { partition: unitPartition(unit), prefix: `${PREFIX.fact}${factsOf(eventId)}` };
      const found = (await access.all('copies', range)).map(factOf);
      if (including === undefined || found.some(({ key }) => key === including)) return found;
      return (await access.all('copies', { ...range, fresh: true })).map(factOf);
    },
    async facts(unit, page) {
      // Whoever reads all facts folds them: one that is missed here would be missed for good.
      const range = { partition: unitPartition(unit), prefix: PREFIX.fact, fresh: true };
      const { items, next } = await access.page('facts', range, page);
      return { items: items.map(factOf), next };
    },
  };
}

function factOf({ sk, line = '' }: Item): StoredFact {
  return { key: sk.slice(PREFIX.fact.length), line };
}
