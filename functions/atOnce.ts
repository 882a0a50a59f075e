/** Does the same for each item, for up to `most` of them at a time; the results are in the order of the items. */
export async function atOnce<Item, Result>(
  most: number,
  items: readonly Item[],
  work: (item: Item) => Promise<Result>,
): Promise<Result[]> {
  const results: Result[] = [];
  for (let from = 0; from < items.length; from += most) {
    results.push(...(await Promise.all(items.slice(from, from + most).map(work))));
  }
  return results;
}
