import normalCdf from '@stdlib/stats-base-dists-normal-cdf';
import { keptShort } from './keptShort.ts';
import type { CyclesRules } from './rules/cycles.ts';

/**
 * Why the cycles of a bed end when they do: a hidden Markov model over cycles. Probabilities, which sum to 1. A metered
 * control decides every morning whether it regenerates; each state says how probable the decisions of a cycle are.
 */
export interface CycleBelief {
  /** The control regenerates when it is due by what is known to be programmed. */
  readonly fine: number;
  /** It often regenerates again although it is not due. */
  readonly repeated: number;
  /** It regenerates on nearly every morning, every second or every third, whatever it has counted. */
  readonly timed: readonly number[];
  /** Somebody starts regenerations by hand again and again. */
  readonly manual: number;
  /** It goes by less than is known to be programmed: by each of {@link SET_TO} of it. */
  readonly set: readonly number[];
}

/**
 * Shares of the known capacity that a control may go by instead, and how the prior spreads over them. The last is
 * caution, or a meter that counts a little much, and no fault. Guesses.
 */
export const SET_TO = [0.4, 0.5, 0.6, 0.7, 0.8, 0.9] as const;
const SET_PRIOR: readonly number[] = [0.03, 0.09, 0.15, 0.18, 0.15, 0.4];

/** How the prior of such spreads over the days between them. A guess. */
const TIMED_PRIOR: readonly number[] = [0.4, 0.4, 0.2];

/** One ended cycle, as shares of the bed's true capacity. */
export interface CycleEvidence {
  readonly trigger: 'metered' | 'manual' | 'override' | 'unknown';
  /** Local days since the regeneration before, and days since the last cycle that was judged. */
  readonly days: number;
  readonly daysSinceLast: number;
  /** What was used of the capacity that the cycle's bed had, with what a reserve holds back: rightly left in the bed. */
  readonly usedShare: number;
  /** The same of a whole dose's capacity, at the end and on the last morning that was let pass. */
  readonly endShare: number;
  readonly passedShare: number;
  /** What is programmed, as a share of a whole dose's capacity. */
  readonly programmedShare: number;
  /** Standard deviation of these, for what is known of the hours. */
  readonly doubt: number;
  /** Whether the cycle before was odd in the same way: odd things come in pairs. */
  readonly again: boolean;
  /** Whether the unit has reported its settings: one that does would have told of another. */
  readonly tellsSettings: boolean;
}

/** Nothing is beyond doubt. */
const LEAST = 1e-6;
const DAYS_A_YEAR = 365.25;
/** What a control that repeats does: in so many cycles, and then on each morning with this probability. Guesses. */
const REPEATS = { share: 0.6, eachMorning: 0.6 } as const;
/** Share of the cycles of a control that goes by days which last just so many. A guess, no source. */
const TIMED = 0.9;
/** One that was due as well speaks for a control that goes by its count. A guess, no source. */
const TIMED_WHEN_DUE = 0.5;
/** Share of the cycles that somebody ends by hand who does it again and again. A guess, no source. */
const BY_HAND = 0.6;
/** A count is off by this much, for the hours between midnight and the regeneration. */
const COUNT_SPREAD = 0.05;
/** A known setting may be off by this much as well, and the meter, and nobody would call it wrong. A guess. */
const SETTING_SPREAD = 0.08;
/** One of a pair of beds is regenerated just when it is due: half of such counts end a little below. */
const NEARLY_DUE = 0.93;

/** Of a unit whose cycles have not been seen. */
export function newCycleBelief(): CycleBelief {
  return { fine: 1, repeated: 0, timed: nothingTimed(), manual: 0, set: nothingSet() };
}

function nothingTimed(): number[] {
  return TIMED_PRIOR.map(() => 0);
}

function nothingSet(): number[] {
  return SET_TO.map(() => 0);
}

/** A belief that is written to while it is worked out. */
type Draft = { fine: number; repeated: number; timed: number[]; manual: number; set: number[] };

function copyOf({ fine, repeated, timed, manual, set }: CycleBelief): Draft {
  return { fine, repeated, timed: timed.slice(), manual, set: set.slice() };
}

/** Takes in a cycle of so many days. */
export function weighCycle(belief: CycleBelief, cycle: CycleEvidence, rules: CyclesRules): CycleBelief {
  const next = copyOf(belief);
  passCycle(next, cycle, rules);
  settle(next, likelihoodOf(cycle, rules));
  return next;
}

function likelihoodOf(cycle: CycleEvidence, rules: CyclesRules): CycleBelief {
  switch (cycle.trigger) {
    case 'override':
      return byCalendar(cycle, rules);
    case 'manual':
      return byHand(cycle, rules);
    default:
      return byCount(cycle, rules);
  }
}

/** What a technician's visit leaves of it: `stays` of each fault. */
export function mended(belief: CycleBelief, stays: number): CycleBelief {
  const next = copyOf(belief);
  mend(next, stays);
  return next;
}

function mend(next: Draft, stays: number) {
  next.repeated *= stays;
  scale(next.timed, stays);
  next.manual *= stays;
  scale(next.set, stays);
  next.fine = 1 - next.repeated - sum(next.timed) - next.manual - sum(next.set);
}

/** The settings are known anew: whatever it was set to, it goes by them now. */
export function settingsKnown({ fine, repeated, timed, manual, set }: CycleBelief): CycleBelief {
  return { fine: fine + sum(set), repeated, timed, manual, set: nothingSet() };
}

function passCycle(next: Draft, { daysSinceLast, tellsSettings }: CycleEvidence, rules: CyclesRules) {
  mend(next, 1 - within(rules.endPerUnitYear, daysSinceLast));
  const { fine } = next;
  const untold = tellsSettings ? rules.untoldShare : 1;
  const repeated = fine * within(rules.repeatsPerUnitYear, daysSinceLast);
  const timed = fine * within(rules.timedPerUnitYear, daysSinceLast);
  const manual = fine * within(rules.byHandPerUnitYear, daysSinceLast);
  const set = fine * within(rules.setLowerPerUnitYear * untold, daysSinceLast);
  next.fine = fine - repeated - timed - manual - set;
  next.repeated += repeated;
  spread(next.timed, timed, TIMED_PRIOR);
  next.manual += manual;
  spread(next.set, set, SET_PRIOR);
}

function scale(values: number[], by: number) {
  for (let index = 0; index < values.length; index++) values[index] = (values[index] ?? 0) * by;
}

/** Adds a probability to several, to each its share of it. */
function spread(values: number[], probability: number, shares: readonly number[]) {
  for (let index = 0; index < values.length; index++) {
    values[index] = (values[index] ?? 0) + probability * (shares[index] ?? 0);
  }
}

/** Probability that something begins within so many days, at least one, that begins so often a year. */
function within(perYear: number, days: number): number {
  return 1 - Math.exp((-perYear * Math.max(1, days)) / DAYS_A_YEAR);
}

function byCount(cycle: CycleEvidence, rules: CyclesRules): CycleBelief {
  const { trigger, endShare, passedShare, programmedShare, doubt, days } = cycle;
  const odd = cycle.again ? rules.oddAgain : trigger === 'unknown' ? rules.oddUnknown : rules.odd;
  const spread = together(COUNT_SPREAD, doubt);
  const isDue = dueBy(endShare, NEARLY_DUE * programmedShare, together(spread, SETTING_SPREAD));
  const passed = Math.max(0, days - 1);
  // Arrays of the right length and of decimals from the first: what is in them is written over.
  const timed = TIMED_PRIOR.slice();
  for (let index = 0; index < timed.length; index++) {
    timed[index] = (1 - isDue) * (days === index + 1 ? TIMED : 1 - TIMED) + isDue * TIMED_WHEN_DUE;
  }
  const set = SET_PRIOR.slice();
  for (let index = 0; index < set.length; index++) {
    const at = (SET_TO[index] ?? 1) * programmedShare;
    set[index] = odd + (1 - odd) * dueBy(endShare, at, spread) * (1 - dueBy(passedShare, at, spread));
  }
  return {
    fine: odd + (1 - odd) * isDue,
    repeated:
      REPEATS.share * REPEATS.eachMorning * (1 - REPEATS.eachMorning) ** passed + (1 - REPEATS.share) * isDue,
    timed,
    manual: (1 - BY_HAND) * isDue + odd,
    set,
  };
}

/** One by hand says something only where the bed had much left: hard water is a good reason. */
function byHand({ usedShare, doubt, again, daysSinceLast }: CycleEvidence, rules: CyclesRules): CycleBelief {
  const early = 1 - normalCdf(usedShare, rules.inTimeShare, together(SETTING_SPREAD, doubt));
  const once = within(rules.onceByHandPerUnitYear, daysSinceLast);
  const now = again ? Math.max(once, rules.byHandAgain) : once;
  const manual = early * BY_HAND + (1 - early) * now;
  return { fine: now, repeated: now, timed: TIMED_PRIOR.map(() => now), manual, set: SET_TO.map(() => now) };
}

/** A calendar limit of days: no household uses so little that this would be called for. */
function byCalendar({ usedShare, doubt }: CycleEvidence, rules: CyclesRules): CycleBelief {
  const early = 1 - normalCdf(usedShare, rules.inTimeShare, together(SETTING_SPREAD, doubt));
  const { odd } = rules;
  const repeated = early * REPEATS.share + (1 - early) * odd;
  return {
    fine: odd,
    repeated,
    timed: TIMED_PRIOR.map(() => repeated),
    manual: odd,
    set: SET_TO.map(() => odd),
  };
}

/** Standard deviation of a sum of two; Math.hypot takes ten times as long, for sizes that none of these has. */
function together(one: number, other: number): number {
  return Math.sqrt(one * one + other * other);
}

/** Probability that a count of `endShare` had reached `atShare`. */
function dueBy(endShare: number, atShare: number, spread: number): number {
  return normalCdf(endShare / atShare, 1, spread / atShare);
}

/** Bayes' rule. */
function settle(next: Draft, likelihood: CycleBelief) {
  next.fine *= likelihood.fine;
  next.repeated *= likelihood.repeated;
  weigh(next.timed, likelihood.timed);
  next.manual *= likelihood.manual;
  weigh(next.set, likelihood.set);
  const all = next.fine + next.repeated + sum(next.timed) + next.manual + sum(next.set);
  next.fine = Math.max(LEAST, keptShort(next.fine / all));
  next.repeated = keptShort(next.repeated / all);
  shorten(next.timed, all);
  next.manual = keptShort(next.manual / all);
  shorten(next.set, all);
}

function weigh(values: number[], likelihoods: readonly number[]) {
  for (let index = 0; index < values.length; index++) {
    values[index] = (values[index] ?? 0) * (likelihoods[index] ?? 0);
  }
}

function shorten(values: number[], all: number) {
  for (let index = 0; index < values.length; index++) values[index] = keptShort((values[index] ?? 0) / all);
}

/** Adds probabilities up. */
export function sum(values: readonly number[]): number {
  let total = 0;
  for (let index = 0; index < values.length; index++) total += values[index] ?? 0;
  return total;
}
