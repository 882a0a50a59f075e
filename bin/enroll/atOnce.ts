/** Does work for each item, some at a time; ends with the first error, when what was begun is over. */
export async function atOnce<Item>(
  most: number,
  items: readonly Item[],
  work: (item: Item) => Promise<void>,
): Promise<void> {
  const left = items.values();
  let failure: { error: unknown } | undefined;
  const worker = async () => {
    for (const item of left) {
      if (failure) return;
      try {
        await work(item);
      } catch (error) {
        failure ??= { error };
      }
    }
  };
  await Promise.all(Array.from({ length: most }, worker));
  if (failure) throw failure.error;
}
