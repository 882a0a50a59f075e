import * as z from 'zod';
import type { Fact } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { Memory } from './memory.ts';

export const reportingRulesSchema = () =>
  z.strictObject({
    memoryDays: z
      .number()
      .positive()
      .default(730)
      .describe(
        'Once so many days of reporting are on record, what was counted of them is halved: habits change',
      ),
  });

/**
 * When a unit was heard, and how long it is quiet in between. Heard means that its electronics sent something, however
 * old that was; what people do about the unit is not from it.
 */
export interface Reporting {
  /** The latest instant at which it was heard; null before the first. */
  readonly lastHeard: Instant | null;
  /**
   * Instants at which it was heard, in order: the end of the last gap that is counted, and those after it. A fact that
   * came late lies ahead of the story; the gap before it may still be filled by what the story brings next.
   */
  readonly heard: readonly Instant[];
  /** Gaps on record, however short, and those that lasted as long as each of GAP_DAYS; halved as they age. */
  readonly gaps: number;
  readonly reached: readonly number[];
  /** Days that all counted gaps make up; halved likewise. */
  readonly days: number;
}

/**
 * The lengths of gaps that are told apart, days. Odd ones, because gaps are whole days, or the hours between two daily
 * reports, give or take the change of the clocks.
 */
export const GAP_DAYS = [
  0.8, 1.1, 1.4, 1.9, 2.4, 2.9, 3.4, 4.4, 5.4, 6.4, 7.4, 8.4, 10.4, 14.4, 21.4, 30.4, 60.4,
] as const;

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;
/** What is heard within an hour is heard once. */
const ONCE_MS = HOUR_MS;
/** Facts that came late and lie ahead of the story at one time; the first go first where there are more. */
const MOST_AHEAD = 16;

/** Since when a unit has been silent, and how long its gaps usually are. */
export const reporting: Memory<Reporting> = {
  start: () => ({ lastHeard: null, heard: [], gaps: 0, reached: GAP_DAYS.map(() => 0), days: 0 }),
  observe(kept, fact, { rules }) {
    if (!isSentByUnit(fact)) return kept;
    const { at, known } = fact;
    const lastHeard = kept.lastHeard === null || kept.lastHeard < known ? known : kept.lastHeard;
    // The story begins with its first fact, even if that came late.
    const heard = withHearing(kept.heard.length === 0 ? [Math.min(at, known)] : kept.heard, known);
    return countGaps(kept, lastHeard, heard, at, rules.reporting.memoryDays);
  },
};

function isSentByUnit({ kind }: Fact): boolean {
  switch (kind) {
    case 'flow-day':
    case 'regeneration':
    case 'settings':
    case 'salt-level':
    case 'power':
      return true;
    default:
      return false;
  }
}

/** The instants with one more. One that lies before the first of them fills no gap: those are counted. */
function withHearing(heard: readonly Instant[], known: Instant): readonly Instant[] {
  const next = firstAfter(heard, known - ONCE_MS);
  if (next === heard.length) return heard.length === 1 ? [heard[0] ?? known, known] : [...heard, known];
  if (next === 0 || (heard[next] ?? known) < known + ONCE_MS) return heard;
  const more = [...heard.slice(0, next), known, ...heard.slice(next)];
  return more.length > MOST_AHEAD ? more.toSpliced(1, 1) : more;
}

/** Where the first instant after another stands; past the last where there is none. */
function firstAfter(instants: readonly Instant[], instant: Instant): number {
  let at = 0;
  while (at < instants.length && (instants[at] ?? 0) <= instant) at++;
  return at;
}

/**
 * Counts the gaps between the instants `heard` that end before `at`, to which the story has come. No later fact of it
 * can fill them: a fact is not known before its place in the story.
 */
function countGaps(
  kept: Reporting,
  lastHeard: Instant,
  heard: readonly Instant[],
  at: Instant,
  memoryDays: number,
): Reporting {
  let { gaps, reached, days } = kept;
  const counted = Math.max(0, firstAfter(heard, at) - 1);
  for (let gap = 0; gap < counted; gap++) {
    const gapDays = ((heard[gap + 1] ?? 0) - (heard[gap] ?? 0)) / DAY_MS;
    gaps += 1;
    days += gapDays;
    reached = withGap(reached, gapDays);
    if (days >= memoryDays) {
      reached = reached.map((count) => count / 2);
      gaps /= 2;
      days /= 2;
    }
  }
  // Named one by one: a spread costs twenty times as much, and this runs on each fact of each unit.
  return {
    lastHeard,
    heard: counted === 0 ? heard : heard.slice(counted),
    gaps,
    reached,
    days: Math.round(days * 1000) / 1000,
  };
}

/** The counts of gaps by their length with one more. */
function withGap(reached: readonly number[], gapDays: number): readonly number[] {
  if (gapDays < GAP_DAYS[0]) return reached;
  const next = reached.slice();
  for (let step = 0; step < next.length && gapDays >= (GAP_DAYS[step] ?? 0); step++) {
    next[step] = (next[step] ?? 0) + 1;
  }
  return next;
}

/** Ended gaps that lasted `days`, or the next shorter length that is counted. */
export function gapsAsLong({ reached }: Reporting, days: number): number {
  const step = GAP_DAYS.findLastIndex((each) => each <= days);
  return reached[step] ?? reached[0] ?? 0;
}
