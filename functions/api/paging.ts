import * as z from 'zod';
import { StoreError } from '../../lib/store/errors.ts';
import type { Page, PageRequest } from '../../lib/store/store.ts';
import { Problem } from './problems.ts';

/** The parameters of every route that answers a page at a time. */
export const pageQuery = z.object({
  limit: z.coerce.number().int().min(1).max(1000).default(100).describe('At most so many items'),
  cursor: z.string().min(1).max(4096).optional().describe('What `next` of the page before says'),
});

/** One page of items as it travels. */
export function pageOf<Item extends z.ZodType>(item: Item) {
  return z.object({
    items: z.array(item),
    next: z.string().optional().describe('The cursor of the page after this; missing on the last'),
  });
}

/** Reads a page. A cursor that the store refuses is the caller's mistake, not ours. */
export async function readPage<Item>(
  page: PageRequest,
  read: (page: PageRequest) => Promise<Page<Item>>,
): Promise<Page<Item>> {
  try {
    return await read(page);
  } catch (error) {
    if (page.cursor === undefined || !(error instanceof StoreError) || error.code !== 'refused') throw error;
    throw new Problem(
      'cursor-invalid',
      'Begin again without a cursor, and pass on what `next` says as it is.',
    );
  }
}

/** A page with its items as they travel. */
export function shown<Item, Shown>({ items, next }: Page<Item>, show: (item: Item) => Shown) {
  return { items: items.map(show), ...(next !== undefined && { next }) };
}
