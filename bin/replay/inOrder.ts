/**
 * Begins work on up to `atOnce` items at a time and absorbs the results one by one in the order of the items, however
 * the work overtakes itself. The first failure ends it.
 */
export async function inOrder<Item, Result>(
  items: AsyncIterable<Item> | Iterable<Item>,
  atOnce: number,
  work: (item: Item) => Promise<Result>,
  absorb: (result: Result) => Promise<void>,
): Promise<void> {
  const begun: Promise<Result>[] = [];
  for await (const item of items) {
    const result = work(item);
    // A failure is met when its turn comes, and must not count as one that nobody looks at until then.
    result.catch(() => {});
    begun.push(result);
    if (begun.length >= atOnce) await absorbNext();
  }
  while (begun.length > 0) await absorbNext();

  async function absorbNext() {
    const next = begun.shift();
    if (next) await absorb(await next);
  }
}
