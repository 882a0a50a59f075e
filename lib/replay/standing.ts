import { canonicalContent } from '../../shared/canonicalContent.ts';
import { compareText } from '../../shared/compareText.ts';
import type { Received } from './received.ts';

/** What of a unit's lines stands: each event id once. */
export interface Standing {
  standing: Received[];
  /** Lines that say again what stands. */
  duplicates: number;
  /** Lines that say something else under the same id. */
  conflicts: Received[];
}

/**
 * Settles which copy of each event id stands, whatever the order of the lines: the one known earliest, then the one
 * whose content is least in canonical JSON.
 */
export function settle(received: readonly Received[]): Standing {
  // Mostly there is one of each, and a list for each would take as long as all the rest.
  const byId = new Map<string, Received | Received[]>();
  for (const each of received) {
    const { id } = each.fact;
    const copies = byId.get(id);
    if (copies === undefined) byId.set(id, each);
    else if (Array.isArray(copies)) copies.push(each);
    else byId.set(id, [copies, each]);
  }
  const result: Standing = { standing: [], duplicates: 0, conflicts: [] };
  for (const copies of byId.values()) {
    if (Array.isArray(copies)) settleCopies(copies, result);
    else result.standing.push(copies);
  }
  return result;
}

function settleCopies(copies: readonly Received[], result: Standing) {
  // The one place that asks for the text of a line, which may have to be read for it.
  const contents = copies.map((received) => ({ received, content: canonicalContent(received.raw) }));
  contents.sort(
    (a, b) =>
      a.received.fact.known - b.received.fact.known ||
      compareText(a.content, b.content) ||
      a.received.line - b.received.line,
  );
  const [first, ...others] = contents;
  if (!first) return;
  result.standing.push(first.received);
  for (const { received, content } of others) {
    if (content === first.content) result.duplicates += 1;
    else result.conflicts.push(received);
  }
}
