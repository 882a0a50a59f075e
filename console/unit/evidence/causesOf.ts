import type { Alert } from '../types.ts';

interface RankedCause {
  readonly cause: string;
  /** Of the cause, given that the alert is right. */
  readonly probability: number;
}

/** Less than this is not worth a line. A judgement, no source. */
const WORTH = 0.01;

/** The causes that an alert's evidence ranks, the likeliest first; the one that it names, where it ranks none. */
export function causesOf({ cause, evidence }: Alert): readonly RankedCause[] {
  const { causes } = evidence;
  const told = Array.isArray(causes) ? causes.filter(isRanked) : [];
  if (told.length === 0) return cause === null ? [] : [{ cause, probability: 1 }];
  return told
    .filter(({ probability }) => probability >= WORTH)
    .toSorted((a, b) => b.probability - a.probability);
}

function isRanked(value: unknown): value is RankedCause {
  if (typeof value !== 'object' || value === null || !('cause' in value) || !('probability' in value))
    return false;
  return typeof value.cause === 'string' && typeof value.probability === 'number';
}
