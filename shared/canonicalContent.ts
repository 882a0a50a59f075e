import canonicalize from 'canonicalize';

/**
 * The content of an event by which copies of one id are compared: `type`, `time` and `data` as values, in the one
 * order and spelling of RFC 8785. What that cannot write (half of a surrogate pair, a number too large for a double,
 * nesting that exhausts the stack; all in members that no schema names, or in notes) is compared by its line.
 *
 * @param line one that `admit` has let through; of any other it may throw
 */
export function canonicalContent(line: string): string {
  const { type, time, data } = JSON.parse(line);
  try {
    return canonicalize({ type, time, data }) ?? line;
  } catch {
    return line;
  }
}
