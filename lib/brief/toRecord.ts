import type { AlertCause, AlertKind } from '../../shared/alerts.ts';
import { CAUSES } from '../../shared/alerts.ts';
import { NOTHING_FOUND } from '../unit/memory/visits.ts';
import type { Brief } from './briefSchema.ts';

/**
 * What to write down at a visit. Findings are told by codes, since only those count as evidence: the causes that are in
 * question, for kinds without any the kind itself, and that nothing was found.
 */
export function toRecord(causes: readonly AlertCause[], kinds: readonly AlertKind[]): Brief['record'] {
  const bare = kinds.filter((kind) => CAUSES[kind].length === 0);
  return [
    {
      item: 'findings',
      words: 'Findings, by code where one fits, else in words',
      codes: [...causes, ...bare, NOTHING_FOUND],
    },
    { item: 'work', words: 'Work done', codes: [] },
    { item: 'parts', words: 'Parts used', codes: [] },
    { item: 'salt-added', words: 'Salt added', codes: [] },
    { item: 'raw-hardness', words: 'Raw water hardness', codes: [] },
    { item: 'cold-hardness', words: 'Cold softened tap hardness', codes: [] },
    { item: 'hot-hardness', words: 'Hot tap hardness', codes: [] },
    {
      item: 'settings-read-back',
      words: 'Settings as you leave them: capacity, hardness, salt dose, hour, clock',
      codes: [],
    },
  ];
}
