/** The keys of a record, in their order, with their type: for records that have no others, as those that are written out. */
export function keysOf<Key extends string>(record: Readonly<Partial<Record<Key, unknown>>>): Key[] {
  return Object.keys(record) as Key[];
}
