import { randomUUID } from 'node:crypto';
import { expect, vi } from 'vitest';
import type { StoreError } from '../../../lib/store/errors.ts';
import type { Page, PageRequest } from '../../../lib/store/store.ts';

/** A company that no other test has, with a unit: what stands in the table already does not matter. */
export function newUnit() {
  return { companyId: `fenwick-${randomUUID().slice(0, 8)}`, unitId: 'u-17' };
}

/** A read may be a moment behind: it is asked until it is not. */
export function eventually(check: () => Promise<void>): Promise<void> {
  return vi.waitFor(check, { timeout: 5_000, interval: 100 });
}

/** Every item of a list, page after page. */
export async function allOf<Item>(
  limit: number,
  list: (page: PageRequest) => Promise<Page<Item>>,
): Promise<Item[]> {
  const items: Item[] = [];
  let cursor: string | undefined;
  do {
    const page = await list({ limit, cursor });
    expect(page.items.length).toBeLessThanOrEqual(limit);
    items.push(...page.items);
    cursor = page.next;
  } while (cursor !== undefined);
  return items;
}

export async function refusal(doing: Promise<unknown>): Promise<StoreError['code'] | undefined> {
  return doing.then(
    () => undefined,
    (error: StoreError) => error.code,
  );
}
