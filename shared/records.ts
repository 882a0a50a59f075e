/** The keys of a record, in their order, with their type: for records that have no others, as those that are written out. */
export function keysOf<Key extends string>(record: Readonly<Partial<Record<Key, unknown>>>): Key[] {
  return Object.keys(record) as Key[];
}

/** A record that has something under each of some keys, in their order. */
export function recordOf<Key extends string, Value>(
  keys: readonly Key[],
  make: (key: Key) => Value,
): Record<Key, Value> {
  return Object.fromEntries(keys.map((key) => [key, make(key)])) as Record<Key, Value>;
}
