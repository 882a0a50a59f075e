import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { atLeastShare } from '../simulation/household.ts';
import { STALLS } from '../simulation/stalls.ts';
import type { ScoredUnit } from './scoredUnit.ts';
import {
  countOf,
  leavesADay,
  notAnnounced,
  stallDays,
  stillStalled,
  unannouncedShare,
} from './stallPrior.ts';
import { stallsOf } from './stallScore.ts';
import { type ZeroRun, zeroRunsOf } from './zeroRuns.ts';

/** A simulated fleet as it was made. */
export interface MadeFleet {
  readonly start: LocalDate;
  readonly days: number;
  /** Share of its units whose meter stalls. */
  readonly stallShare: number;
}

/** What is known of when a meter stalls. */
interface When {
  /** Probability that it does on a date. */
  readonly on: (date: LocalDate) => number;
  /** Probability that it has not before the run began. */
  readonly notYet: number;
}

/**
 * The probability of a stalled meter on each day of each run of zeros of a unit, for somebody who knows how the fleet
 * was made, though not what was drawn for this home: the exact posterior, by Bayes, over what may be behind the zeros.
 *
 * He goes by which days had flow, by what the household announced or said, and sees for certain that a meter dwindles
 * from the first day on, which nobody can: no watch by the same events does better on the average. What he leaves out is
 * rare: that a unit is moved to another home, and a second absence during a stall.
 */
export function stallPosteriors(
  unit: ScoredUnit,
  fleet: MadeFleet,
): { run: ZeroRun; posteriors: number[] }[] {
  const runs = zeroRunsOf(unit);
  const [stall] = stallsOf(unit);
  return runs.map((run) => {
    const began = run.days[0]?.date ?? 0;
    const leaves = trickleSeen(unit, began) ? 0 : leavesADay(...pastOf(unit, runs, began));
    const isPast = stall !== undefined && stall.to <= began;
    const when = isPast ? NEVER : whenOf(fleet, began, stall?.dwindlingFrom ?? Infinity);
    return {
      run,
      posteriors: run.days.map(({ date }) => posteriorOf(unit, began, date, leaves, when)),
    };
  });
}

/** No unit gets two faults: a meter that was mended does not stall again. */
const NEVER: When = { on: () => 0, notYet: 1 };

function whenOf({ start, days, stallShare }: MadeFleet, began: LocalDate, dwindlingFrom: LocalDate): When {
  if (dwindlingFrom < began) {
    const { least, most } = STALLS.dwindlingDays;
    const first = dwindlingFrom + least;
    const last = dwindlingFrom + most;
    const aDay = 1 / countOf(STALLS.dwindlingDays);
    return {
      on: (date) => (date >= first && date <= last ? aDay : 0),
      notYet: aDay * Math.max(0, last - Math.max(first, began) + 1),
    };
  }
  const span = stallDays(days);
  const aDay = (stallShare * (1 - STALLS.dwindles)) / (span.last - span.first + 1);
  const gone = Math.min(span.last + 1, Math.max(span.first, began - start)) - span.first;
  return {
    on: (date) => (date - start >= span.first && date - start <= span.last ? aDay : 0),
    notYet: 1 - aDay * gone,
  };
}

/** How often the household has left before a run, and on how many days it has stayed although it might have left. */
function pastOf(
  unit: ScoredUnit,
  runs: readonly ZeroRun[],
  began: LocalDate,
): [left: number, stayed: number] {
  // The meter of a run that ended by mending was stalled; he knows of the visit.
  const absences = runs.filter(
    ({ days, endedOn }) => endedOn !== null && endedOn <= began && days.every(({ isStalled }) => !isStalled),
  );
  // On the day of the return nobody leaves again.
  const returns = new Set(absences.map(({ endedOn }) => endedOn));
  let stayed = 0;
  for (const [date, drew] of unit.seen?.drew ?? []) {
    if (date < began && drew && !returns.has(date)) stayed += 1;
  }
  return [absences.length, stayed];
}

/** Whether something drew water while nobody was at home: absences of such a home show no zeros. */
function trickleSeen({ truth, seen }: ScoredUnit, before: LocalDate): boolean {
  return truth.some(({ what, from }) => {
    const first = parseLocalDate(from);
    return what === 'absence' && first !== undefined && first < before && seen?.drew.get(first) === true;
  });
}

function posteriorOf(
  { seen }: ScoredUnit,
  began: LocalDate,
  date: LocalDate,
  leaves: number,
  when: When,
): number {
  if (when.notYet <= 0) return 0;
  // Nobody says so while he is away.
  if (seen?.atHome.some(({ from, to }) => from <= date && to >= began)) return 1;
  const isReported = (day: LocalDate) => seen?.drew.has(day) === true;
  const word = seen?.away.find(({ from, to }) => from <= date && to >= began);
  if (!word) return share(unannounced(began, date, leaves, when));
  // They were there on the day before they left, and are again on that of the return: zeros then are none of theirs.
  if (word.from > began && isReported(word.from - 1)) return 1;
  if (date <= word.to) return share(announced(word.from, date, word.to, leaves, when));
  if (date === word.to + 1 || isReported(word.to + 1)) return 1;
  return share(unannounced(word.to + 2, date, leaves, when));
}

interface Weights {
  readonly stalled: number;
  readonly sound: number;
}

function share({ stalled, sound }: Weights): number {
  return stalled > 0 ? stalled / (stalled + sound) : 0;
}

/** What may be behind a run of zeros from `began` to `date` of which nobody spoke. */
function unannounced(began: LocalDate, date: LocalDate, leaves: number, when: When): Weights {
  const length = date - began + 1;
  const { behindAbsence } = STALLS;
  let notYet = when.notYet - when.on(began);
  // The meter stalled while somebody was there.
  let stalled = (1 - behindAbsence) * when.on(began) * stillStalled(length - 1) * unnoticed(length);
  for (let before = 1; before < length; before++) {
    const on = when.on(began + before);
    notYet -= on;
    // They were away of their own accord already; when they came back is not known, so nor is whether they noticed.
    stalled +=
      leaves * unannouncedShare(before) * (1 - behindAbsence) * on * stillStalled(length - 1 - before);
  }
  // Away, and nothing is wrong so far.
  let sound = leaves * unannouncedShare(length) * Math.max(0, notYet);
  for (const { before, after, share: odds } of BEHIND_ABSENCE) {
    const weight = odds * when.on(began + before) * notAnnounced(before + after + 1);
    if (before >= length) sound += weight;
    else stalled += weight * stillStalled(length - 1 - before) * unnoticed(length - before - after - 1);
  }
  return { stalled, sound };
}

/** The same of a run within an absence that was announced: the meter stalls behind it, or nothing is wrong. */
function announced(began: LocalDate, date: LocalDate, to: LocalDate, leaves: number, when: When): Weights {
  const length = date - began + 1;
  const whole = to - began + 1;
  const absent = leaves * (atLeastShare(whole) - atLeastShare(whole + 1));
  let on = 0;
  for (let day = began; day <= date; day++) on += when.on(day);
  let stalled = absent * (1 - STALLS.behindAbsence) * on;
  let sound = absent * Math.max(0, when.notYet - on);
  for (const { before, after, share: odds } of BEHIND_ABSENCE) {
    if (before + after + 1 !== whole) continue;
    const weight = odds * when.on(began + before);
    if (before >= length) sound += weight;
    else stalled += weight;
  }
  return { stalled, sound };
}

/** The absences that a stall is put behind: days before it and after its first day, and the share of all stalls. */
const BEHIND_ABSENCE = rangeOf(STALLS.awayBefore).flatMap((before) =>
  rangeOf(STALLS.awayAfter).map((after) => ({
    before,
    after,
    share: STALLS.behindAbsence / countOf(STALLS.awayBefore) / countOf(STALLS.awayAfter),
  })),
);

function rangeOf(range: { least: number; most: number }): number[] {
  return Array.from({ length: countOf(range) }, (_, index) => range.least + index);
}

/** The share of stalls of which nobody who was there for so many days has spoken. */
function unnoticed(days: number): number {
  return (1 - STALLS.noticed) ** Math.max(0, days);
}
