import { type AlertCause, CAUSES } from '../../../shared/alerts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { Memory } from './memory.ts';

/** The last visit of a technician: when, what was found, and whether anything was done. */
export interface Visits {
  readonly at: Instant | null;
  /** The causes that its findings and its work name, by their codes, each once. */
  readonly found: readonly AlertCause[];
  /** Whether it was said that nothing is wrong, and no cause named. */
  readonly nothing: boolean;
  /** Whether any work was done. */
  readonly worked: boolean;
}

/** What a technician writes who finds nothing wrong. */
export const NOTHING_FOUND = 'nothing-found';
const CODES: ReadonlySet<string> = new Set(Object.values(CAUSES).flat());

export const visits: Memory<Visits> = {
  start: () => ({ at: null, found: [], nothing: false, worked: false }),
  observe(kept, fact) {
    if (fact.kind !== 'service-visit') return kept;
    const { findings, work } = fact;
    const found = [...new Set([...findings, ...work].filter(isCause))];
    return {
      at: fact.time,
      found,
      nothing: found.length === 0 && [...findings, ...work].includes(NOTHING_FOUND),
      worked: work.some((done) => done !== NOTHING_FOUND),
    };
  },
};

function isCause(word: string): word is AlertCause {
  return CODES.has(word);
}
