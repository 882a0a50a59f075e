/** Far more than any event needs, and far less than exhausts the stack of whoever walks through it. */
const MAX_DEPTH = 64;
/** Half of a surrogate pair. A whole pair is one character to a `u` expression, and of another category. */
const LONE_SURROGATE = /\p{Cs}/u;

/**
 * What keeps a value that JSON.parse has made from being written as canonical JSON (RFC 8785): a number too large for a
 * double, half of a surrogate pair, or, our own limit, nesting of more than 64 levels. Undefined if nothing does.
 */
export function whyNotCanonical(value: unknown, depth = 0): string | undefined {
  if (typeof value === 'number') {
    return Number.isFinite(value) ? undefined : 'holds a number that is too large';
  }
  if (typeof value === 'string') {
    return LONE_SURROGATE.test(value) ? 'holds half of a surrogate pair' : undefined;
  }
  if (typeof value !== 'object' || value === null) return undefined;
  if (depth === MAX_DEPTH) return `is nested more than ${MAX_DEPTH} levels deep`;
  for (const [name, member] of Object.entries(value)) {
    const obstacle = whyNotCanonical(name) ?? whyNotCanonical(member, depth + 1);
    if (obstacle !== undefined) return obstacle;
  }
  return undefined;
}
