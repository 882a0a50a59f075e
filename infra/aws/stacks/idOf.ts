/** The id of a construct of something that the topology names: `Ingest` of `ingest`. */
export function idOf(name: string): string {
  return `${name.charAt(0).toUpperCase()}${name.slice(1)}`;
}
