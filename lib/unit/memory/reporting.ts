import type { Fact } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import type { WrittenMemory } from './memory.ts';

/**
 * When a unit was heard, and how long it is quiet in between. Heard means that its electronics sent something, however
 * old that was; what people do about the unit is not from it.
 */
export interface Reporting {
  /** The latest instant at which it was heard; null before the first. */
  lastHeard: Instant | null;
  /**
   * Instants at which it was heard, in order: the end of the last gap that is counted, and those after it. A fact that
   * came late lies ahead of the story; the gap before it may still be filled by what the story brings next.
   */
  heard: Instant[];
  /** Gaps on record, however short, and those that lasted as long as each of GAP_DAYS; halved as they age. */
  gaps: number;
  reached: number[];
  /** Days that all counted gaps make up; halved likewise. */
  days: number;
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
export const reporting: WrittenMemory<Reporting> = {
  start: () => ({ lastHeard: null, heard: [], gaps: 0, reached: GAP_DAYS.map(() => 0), days: 0 }),
  copy: ({ lastHeard, heard, gaps, reached, days }) => ({
    lastHeard,
    heard: heard.slice(),
    gaps,
    reached: reached.slice(),
    days,
  }),
  observe(kept, fact, { rules }) {
    if (!isSentByUnit(fact)) return kept;
    const { at, known } = fact;
    if (kept.lastHeard === null || kept.lastHeard < known) kept.lastHeard = known;
    // The story begins with its first fact, even if that came late.
    if (kept.heard.length === 0) kept.heard.push(Math.min(at, known));
    hear(kept.heard, known);
    countGaps(kept, at, rules.reporting.memoryDays);
    return kept;
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

/** Puts an instant among the others. One that lies before the first of them fills no gap: those are counted. */
function hear(heard: Instant[], known: Instant) {
  const next = firstAfter(heard, known - ONCE_MS);
  if (next === heard.length) {
    heard.push(known);
    return;
  }
  if (next === 0 || (heard[next] ?? known) < known + ONCE_MS) return;
  heard.splice(next, 0, known);
  if (heard.length > MOST_AHEAD) heard.splice(1, 1);
}

/** Where the first instant after another stands; past the last where there is none. */
function firstAfter(instants: readonly Instant[], instant: Instant): number {
  let at = 0;
  while (at < instants.length && (instants[at] ?? 0) <= instant) at++;
  return at;
}

/**
 * Counts the gaps between the instants heard that end before `at`, to which the story has come. No later fact of it can
 * fill them: a fact is not known before its place in the story.
 */
function countGaps(kept: Reporting, at: Instant, memoryDays: number) {
  const { heard } = kept;
  for (let counted = firstAfter(heard, at) - 1; counted > 0; counted--) {
    const gapDays = ((heard[1] ?? 0) - (heard[0] ?? 0)) / DAY_MS;
    heard.shift();
    kept.gaps += 1;
    kept.days += gapDays;
    countGap(kept.reached, gapDays);
    if (kept.days >= memoryDays) halve(kept);
  }
  kept.days = Math.round(kept.days * 1000) / 1000;
}

/** Counts a gap by its length. */
function countGap(reached: number[], gapDays: number) {
  for (let step = 0; step < reached.length && gapDays >= (GAP_DAYS[step] ?? 0); step++) {
    reached[step] = (reached[step] ?? 0) + 1;
  }
}

function halve(kept: Reporting) {
  const { reached } = kept;
  for (let step = 0; step < reached.length; step++) reached[step] = (reached[step] ?? 0) / 2;
  kept.gaps /= 2;
  kept.days /= 2;
}

/** Ended gaps that lasted `days`, or the next shorter length that is counted. */
export function gapsAsLong({ reached }: Reporting, days: number): number {
  const step = GAP_DAYS.findLastIndex((each) => each <= days);
  return reached[step] ?? reached[0] ?? 0;
}
