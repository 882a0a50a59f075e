import { createHash } from 'node:crypto';
import { canonicalContent } from '../../shared/canonicalContent.ts';
import { parseInstant } from '../../shared/time/instant.ts';

/**
 * The key under which an accepted line is kept, and the event's id that it begins with. The same content known at the
 * same instant has the same key, however the line is written.
 *
 * @param line one that `admit` has let through, with the `recordedtime` that it was given
 */
export function factKey(line: string): { id: string; key: string } {
  const { id, time, recordedtime } = JSON.parse(line);
  const known = String(parseInstant(recordedtime ?? time)).padStart(13, '0');
  const content = createHash('sha256').update(canonicalContent(line)).digest('base64url').slice(0, 12);
  return { id, key: `${factsOf(id)}${known}#${content}` };
}

/** What the keys of all copies of an event id begin with, and no other key does. */
export function factsOf(id: string): string {
  return `${id.replace(/[^A-Za-z0-9._~-]/gu, escaped)}#`;
}

/** Half of a surrogate pair has no UTF-8: it is written as no other character is. */
function escaped(character: string): string {
  return /\p{Surrogate}/u.test(character)
    ? `%u${character.charCodeAt(0).toString(16)}`
    : encodeURIComponent(character);
}
