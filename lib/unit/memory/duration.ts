import type { Power, Regeneration } from '../../../shared/facts.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { keptShort } from './keptShort.ts';
import type { Memory } from './memory.ts';
import type { DurationRules } from './rules/duration.ts';

/** How long the regenerations of a unit usually take, and whether its drive is failing: a hidden Markov model. */
export interface Duration {
  /** Minutes of the latest regenerations that were not long, oldest first. */
  readonly usual: readonly number[];
  /** Mean deviation of such from what was usual, of the logarithm: of about the last dozen. */
  readonly deviation: number;
  /** Probability that the drive is failing; and what it was before the last regeneration. */
  readonly failing: number;
  readonly before: number;
  readonly last: TimedRegeneration | null;
  /** The last long one. */
  readonly lastLong: TimedRegeneration | null;
  /** Long ones since the unit was last well, and those in a row since then that were as usual. */
  readonly longCount: number;
  readonly usualInARow: number;
  /** What the last one was compared with, minutes. */
  readonly usualMinutes: number;
  /** The dose that the usual time goes with. */
  readonly saltDoseLb: number;
}

/** One regeneration with its time. */
export interface TimedRegeneration {
  readonly at: Instant;
  readonly minutes: number;
  readonly isLong: boolean;
}

const MINUTE = 60_000;
const MS_A_DAY = 86_400_000;
const DAYS_A_YEAR = 365.25;
const USUAL_KEPT = 7;
/** With fewer than this many the common time is counted among them: a first one may be the long one. */
const USUAL_NEEDED = 3;
/** Spread after the first one and after two, as a share of that before any: what is usual is hardly known yet. A guess. */
const KNOWN_LITTLE = [1, 0.6, 0.3] as const;
/** How far the mean deviation follows one more; over it the standard deviation of a normal: sqrt(pi / 2), with a margin. */
const DEVIATION_GAIN = 1 / 12;
const SPREAD_OVER_DEVIATION = 1.2533 * 1.2;
/** Shorter than this it was broken off, and tells nothing of the drive. */
const SHORTEST_MINUTES = 10;
/** A failing drive takes this many times the usual, evenly over the logarithm. A guess, no source. */
const TIMES = { least: 1.3, most: 5 } as const;
const LOG_LEAST = Math.log(TIMES.least);
const LOG_MOST = Math.log(TIMES.most);
const FAILED_DENSITY = 1 / Math.log(TIMES.most / TIMES.least);
/** Mean of the logarithm of how much longer a sound one takes that is long for once: mostly less than twice. A guess. */
const ODD_LOG_MEAN = 0.35;
/** So many as usual in a row, and the drive is taken for sound: one that fails every second time never gets there. */
const USUAL_TO_CLEAR = 2;
/** No time is quite impossible. */
const FLOOR = 1e-9;

export const duration: Memory<Duration> = {
  start: (unit) => ({
    usual: [],
    deviation: 0,
    failing: 0,
    before: 0,
    last: null,
    lastLong: null,
    longCount: 0,
    usualInARow: 0,
    usualMinutes: 0,
    saltDoseLb: unit.saltDoseLb,
  }),
  observe(kept, fact, { rules, state }) {
    switch (fact.kind) {
      case 'regeneration':
        return timed(kept, fact, rules.duration);
      case 'power':
        return interrupted(kept, fact, rules.duration);
      case 'service-visit':
        return kept.failing > 0
          ? { ...kept, failing: kept.failing * (1 - rules.duration.mendedByVisit) }
          : kept;
      case 'settings':
        // Brine is made and drawn for as long as the dose needs.
        return state.bed.saltDoseLb === kept.saltDoseLb
          ? kept
          : { ...kept, usual: [], saltDoseLb: state.bed.saltDoseLb };
      default:
        return kept;
    }
  },
};

/** A copy that a regeneration is written to. */
type Draft = { -readonly [Key in keyof Duration]: Duration[Key] };

/** Named one by one: a spread costs twenty times as much. */
function copyOf(kept: Duration): Draft {
  return {
    usual: kept.usual,
    deviation: kept.deviation,
    failing: kept.failing,
    before: kept.before,
    last: kept.last,
    lastLong: kept.lastLong,
    longCount: kept.longCount,
    usualInARow: kept.usualInARow,
    usualMinutes: kept.usualMinutes,
    saltDoseLb: kept.saltDoseLb,
  };
}

/**
 * What a regeneration of a unit takes, minutes: the median of the usual ones, with the common time while there are
 * few. `spread` is the standard deviation of the logarithm of one more about it.
 */
function usualTime(
  { usual, deviation }: Duration,
  rules: DurationRules,
): { minutes: number; spread: number } {
  const few = KNOWN_LITTLE[usual.length];
  const minutes = usual.length < USUAL_NEEDED ? median([rules.usualMinutes, ...usual]) : median(usual);
  if (few !== undefined) return { minutes, spread: few * rules.unknownSpread };
  return { minutes, spread: Math.max(rules.spread, SPREAD_OVER_DEVIATION * deviation) };
}

function timed(kept: Duration, regeneration: Regeneration, rules: DurationRules): Duration {
  const { time, durationMinutes: minutes } = regeneration;
  if (minutes === undefined || minutes < SHORTEST_MINUTES) return kept;
  const days = kept.last ? Math.max(0, time - kept.last.at) / MS_A_DAY : 0;
  const onset = 1 - Math.exp((-rules.failuresPerUnitYear * days) / DAYS_A_YEAR);
  const before = kept.failing + (1 - kept.failing) * onset;
  const typical = usualTime(kept, rules);
  const logTimes = Math.log(minutes / typical.minutes);
  const usual = FLOOR + normal(logTimes, typical.spread);
  const failedLong = before * rules.longWhenFailed * within(logTimes);
  const oddlyLong = (1 - before) * rules.oddlyLong * oddly(logTimes);
  const failedUsual = before * (1 - rules.longWhenFailed) * usual;
  const soundUsual = (1 - before) * (1 - rules.oddlyLong) * usual;
  const failing = (failedLong + failedUsual) / (failedLong + oddlyLong + failedUsual + soundUsual);
  const isLong = failedLong + oddlyLong > failedUsual + soundUsual;
  const last = { at: time, minutes, isLong };
  const next = copyOf(kept);
  next.before = keptShort(before);
  next.failing = keptShort(failing);
  next.last = last;
  next.usualMinutes = typical.minutes;
  if (isLong) {
    next.lastLong = last;
    next.longCount += 1;
    next.usualInARow = 0;
    return next;
  }
  next.usual = [...kept.usual.slice(1 - USUAL_KEPT), minutes];
  next.deviation = keptShort(kept.deviation + deviationGain(kept) * (Math.abs(logTimes) - kept.deviation));
  next.usualInARow += 1;
  if (next.usualInARow >= USUAL_TO_CLEAR) {
    next.failing = 0;
    next.longCount = 0;
  }
  return next;
}

/** Large at first, then that of a mean over a dozen; what is compared with the common time tells nothing of it. */
function deviationGain({ usual }: Duration): number {
  return usual.length < USUAL_NEEDED ? 0 : Math.max(DEVIATION_GAIN, 1 / (usual.length + 1));
}

/** A power failure holds a regeneration up: without it the last one may not have been long. */
function interrupted(kept: Duration, { lostAt, restoredAt }: Power, rules: DurationRules): Duration {
  const { last } = kept;
  if (!last?.isLong) return kept;
  const heldUp = Math.min(restoredAt, last.at + last.minutes * MINUTE) - Math.max(lostAt, last.at);
  if (heldUp <= 0) return kept;
  const left = last.minutes - heldUp / MINUTE;
  if (left > TIMES.least * usualTime(kept, rules).minutes) return kept;
  return { ...kept, failing: kept.before, last: { ...last, isLong: false }, longCount: kept.longCount - 1 };
}

/** Density of how long a failing drive takes, by the logarithm of its times the usual. */
function within(logTimes: number): number {
  return logTimes >= LOG_LEAST && logTimes <= LOG_MOST ? FAILED_DENSITY : 0;
}

function oddly(logTimes: number): number {
  return logTimes > 0 ? Math.exp(-logTimes / ODD_LOG_MEAN) / ODD_LOG_MEAN : 0;
}

function median(values: readonly number[]): number {
  const sorted = values.slice();
  // By insertion: of so few, sort itself takes ten times as long.
  for (let index = 1; index < sorted.length; index++) {
    const value = sorted[index] ?? 0;
    let at = index;
    for (; at > 0 && (sorted[at - 1] ?? 0) > value; at--) sorted[at] = sorted[at - 1] ?? 0;
    sorted[at] = value;
  }
  const middle = (sorted.length - 1) / 2;
  return ((sorted[Math.floor(middle)] ?? 0) + (sorted[Math.ceil(middle)] ?? 0)) / 2;
}

function normal(deviation: number, spread: number): number {
  const z = deviation / spread;
  return Math.exp(-0.5 * z * z) / (spread * Math.sqrt(2 * Math.PI));
}
