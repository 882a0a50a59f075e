import { CAUSES } from '../../shared/alerts.ts';
import type { ServiceVisit } from '../../shared/facts.ts';
import type { Instant } from '../../shared/time/instant.ts';
import { NOTHING_FOUND } from '../unit/memory/visits.ts';
import { draftOf, type Episode } from './episode.ts';

/** What visits can tell of an episode, from the least to the most. */
export const VISIT_OUTCOMES = ['no-word', 'nothing-found', 'other-cause', 'confirmed'] as const;

export type VisitOutcome = (typeof VISIT_OUTCOMES)[number];

/** What a technician found of an episode, and when. */
export interface FieldVisit {
  readonly at: Instant;
  readonly outcome: VisitOutcome;
}

const CODES: ReadonlySet<string> = new Set(Object.values(CAUSES).flat());

/**
 * Takes a visit into an episode, if it took place while that was open or within `lateMs` after. Of several visits the
 * one that tells most stands, of equals the first: who comes again to what is mended finds nothing.
 */
export function visitedBy(episode: Episode, { time, findings }: ServiceVisit, lateMs: number): Episode {
  const { raisedAt, clearedAt, visit } = episode;
  if (time < raisedAt || (clearedAt !== null && time > clearedAt + lateMs)) return episode;
  const outcome = outcomeOf(episode, findings);
  const isMore = !visit || VISIT_OUTCOMES.indexOf(outcome) > VISIT_OUTCOMES.indexOf(visit.outcome);
  if (!isMore) return episode;
  const next = draftOf(episode);
  next.visit = { at: time, outcome };
  return next;
}

/** Findings are told by the codes of causes; a kind that names no cause is confirmed by its own name. */
function outcomeOf({ kind, cause }: Episode, findings: readonly string[]): VisitOutcome {
  if (findings.includes(cause ?? kind)) return 'confirmed';
  if (findings.some((finding) => CODES.has(finding))) return 'other-cause';
  return findings.includes(NOTHING_FOUND) ? NOTHING_FOUND : 'no-word';
}
