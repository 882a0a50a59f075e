import * as z from 'zod';
import { type AlertCause, CAUSES } from '../../../shared/alerts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { Memory } from './memory.ts';

export const visitsRulesSchema = z.strictObject({});

/** What the last technician found. */
export interface Visits {
  readonly at: Instant | null;
  /** The causes that its findings name, by their codes. */
  readonly found: readonly AlertCause[];
  /** Whether it was said that nothing is wrong. */
  readonly nothing: boolean;
}

/** What a technician writes who finds nothing wrong. */
export const NOTHING_FOUND = 'nothing-found';
const CODES: ReadonlySet<string> = new Set(Object.values(CAUSES).flat());

export const visits: Memory<Visits> = {
  start: () => ({ at: null, found: [], nothing: false }),
  observe(kept, fact) {
    if (fact.kind !== 'service-visit') return kept;
    return {
      at: fact.time,
      found: fact.findings.filter(isCause),
      nothing: fact.findings.includes(NOTHING_FOUND),
    };
  },
};

function isCause(finding: string): finding is AlertCause {
  return CODES.has(finding);
}
