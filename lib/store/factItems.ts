import { chunks } from '../../shared/chunks.ts';
import { compareText } from '../../shared/compareText.ts';
import type { Access } from './access.ts';
import { factsOf } from './factKey.ts';
import type { Item } from './item.ts';
import { PREFIX, unitKey, unitPartition } from './keys.ts';
import type { Store, StoredFact, UnitRef, WantedCopies } from './store.ts';

const READS_AT_ONCE = 8;
/** What one read of a range of ids may find beyond a copy of each: so little that each id by itself would cost more. */
const SPARE_COPIES = 4;
/** Comes right after the `#` that ends an id in a key: behind all copies of that id, before those of any other. */
const BEHIND = '$';

/** Facts: put without condition, since one key always holds the same content. */
export function factItems(access: Access): Pick<Store, 'putFacts' | 'copies' | 'facts'> {
  return {
    async putFacts(ofUnits) {
      const items = ofUnits.flatMap(({ unit, facts }) =>
        facts.map(({ key, line }) => ({ ...unitKey(unit, `${PREFIX.fact}${key}`), line })),
      );
      await access.putAll('putFacts', items);
    },
    async copies(unit, wanted) {
      const found = await copiesTogether(access, unit, wanted);
      const left = wanted.filter(({ id, including }) => !isWhole(found.get(id), including));
      for (const some of chunks(left, READS_AT_ONCE)) {
        await Promise.all(
          some.map(async (each) =>
            found.set(each.id, await copiesOf(access, unit, each, found.has(each.id))),
          ),
        );
      }
      return wanted.map(({ id }) => found.get(id) ?? []);
    },
    async facts(unit, page) {
      // Whoever reads all facts folds them: one that is missed here would be missed for good.
      const range = { partition: unitPartition(unit), prefix: PREFIX.fact, fresh: true };
      const { items, next } = await access.page('facts', range, page);
      return { items: items.map(factOf), next };
    },
  };
}

/**
 * All copies of ids that lie close together, as those that a meter counts up do, by one read from the first to the last.
 * Ids that it does not come to are not among what is found.
 */
async function copiesTogether(
  access: Access,
  unit: UnitRef,
  wanted: readonly WantedCopies[],
): Promise<Map<string, StoredFact[]>> {
  const found = new Map<string, StoredFact[]>();
  const ids = wanted
    .map(({ id }) => ({ id, start: startOf(id) }))
    .sort((a, b) => compareText(a.start, b.start));
  const [first, last] = [ids[0], ids.at(-1)];
  if (!first || !last || first.id === last.id) return found;
  const range = {
    partition: unitPartition(unit),
    between: [first.start, `${last.start.slice(0, -1)}${BEHIND}`] as const,
  };
  const { items, end } = await access.first('copies', range, ids.length + SPARE_COPIES);
  for (const { id, start } of ids) {
    if (end !== undefined && (end < start || end.startsWith(start))) break;
    found.set(id, items.filter(({ sk }) => sk.startsWith(start)).map(factOf));
  }
  return found;
}

/** @param behind whether a read that may be a moment behind has been tried already */
async function copiesOf(
  access: Access,
  unit: UnitRef,
  { id, including }: WantedCopies,
  behind: boolean,
): Promise<StoredFact[]> {
  const range = { partition: unitPartition(unit), prefix: startOf(id) };
  const found = behind ? [] : (await access.all('copies', range)).map(factOf);
  if (!behind && isWhole(found, including)) return found;
  return (await access.all('copies', { ...range, fresh: true })).map(factOf);
}

/** Whether copies were found, with the one that must be among them. */
function isWhole(found: readonly StoredFact[] | undefined, including: string | undefined): boolean {
  return found !== undefined && (including === undefined || found.some(({ key }) => key === including));
}

function startOf(id: string): string {
  return `${PREFIX.fact}${factsOf(id)}`;
}

function factOf({ sk, line = '' }: Item): StoredFact {
  return { key: sk.slice(PREFIX.fact.length), line };
}
