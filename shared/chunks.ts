/** Items in their order, so many at a time; fewer at the end. */
export function* chunks<Item>(items: readonly Item[], size: number): Generator<Item[]> {
  for (let from = 0; from < items.length; from += size) yield items.slice(from, from + size);
}
