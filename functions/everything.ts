import type { Page, PageRequest, Store, StoredFact, UnitRef } from '../lib/store/store.ts';
import type { UnitRecord } from '../shared/registry.ts';

const PAGE = 500;

/** All registry records of a company, a page at a time. */
export function recordPages(store: Store, companyId: string): AsyncGenerator<readonly UnitRecord[]> {
  return pages((page) => store.records(companyId, page));
}

/** All stored facts of a unit, every copy of them, a page at a time. */
export function factPages(store: Store, unit: UnitRef): AsyncGenerator<readonly StoredFact[]> {
  return pages((page) => store.facts(unit, page));
}

/** All items of a list, a page at a time. */
export async function* pages<Item>(
  read: (page: PageRequest) => Promise<Page<Item>>,
): AsyncGenerator<readonly Item[]> {
  let cursor: string | undefined;
  do {
    const page = await read({ limit: PAGE, cursor });
    yield page.items;
    cursor = page.next;
  } while (cursor !== undefined);
}
