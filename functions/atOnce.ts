import { chunks } from '../shared/chunks.ts';
/** Does the same for each item, for up to `most` of them at a time; the results are in the order of the items. */
export async function atOnce<Item, Result>(
  most: number,
  items: readonly Item[],
  work: (item: Item) => Promise<Result>,
): Promise<Result[]> {
  const results: Result[] = [];
  for (const some of chunks(items, most)) results.push(...(await Promise.all(some.map(work))));
  return results;
}
