import type { LocalDate } from '../../shared/time/localDate.ts';

/**
 * How often and for how long a household is away, from the runs of days on which its meter registered nothing. An
 * absence looks exactly like a stalled meter; what tells them apart is how usual so long a run is at this home.
 */
export interface AbsenceRecord {
  /** Days seen on which it might have left, i.e. on which water was registered. */
  daysAtHome: number;
  /** Days of ended absences. */
  daysAway: number;
  /** Ended runs that reached each length of HABIT. */
  reached: number[];
  /** The run that lasts. */
  run: ZeroRun | null;
  /** The end of the last run that was a journey. */
  journeyEnded: LocalDate | null;
}

/** Consecutive local days on which nothing was registered; days without a report in between count as part of it. */
export interface ZeroRun {
  from: LocalDate;
  to: LocalDate;
  /** Days of it that were reported. */
  reportedDays: number;
}

/**
 * How many runs a year reach each length of days in an average home. From 41 homes of the DAIAD trial
 * (fixtures/daiad-alicante, holiday homes and sparse meters left out, smoothed beyond 14 days, where there are few):
 * 7.6 runs a home and year, 1.5 of three days or more, 0.26 of seven, 0.085 of 14.
 */
const HABIT = [
  { days: 1, perYear: 7.6 },
  { days: 2, perYear: 2.9 },
  { days: 3, perYear: 1.5 },
  { days: 5, perYear: 0.52 },
  { days: 7, perYear: 0.29 },
  { days: 10, perYear: 0.18 },
  { days: 14, perYear: 0.08 },
  { days: 21, perYear: 0.03 },
  { days: 28, perYear: 0.013 },
  { days: 42, perYear: 0.005 },
  { days: 60, perYear: 0.002 },
] as const;
/** From this length on a run is a journey rather than a day out; the two have rates of their own. */
const JOURNEY_DAYS = 3;
const JOURNEY = HABIT.findIndex(({ days }) => days === JOURNEY_DAYS);
/**
 * Somebody who looks after an empty house draws a little now and then: a run that begins within so many days of a
 * journey is taken for its going on, which is as likely, a day, as this. A judgement from holiday homes of the trial.
 */
const LOOKED_IN_DAYS = 3;
const GOES_ON_PER_DAY = 0.15;
/**
 * How alike homes are: the shape of the gamma distribution of their rates. At 1 it would be exponential; below, most
 * homes have few runs and some have many. Of the same 41 homes.
 */
const SHAPE = 0.45;
/** Runs that the fleet's habit weighs against a home's own, in how long they last. */
const HABIT_WEIGHT = 3;
const DAYS_A_YEAR = 365.25;
/** Beyond the last length the rate halves in this many days. */
const HALVING_DAYS = 20;

/** A home of which nothing is known but its fleet. */
export function newAbsenceRecord(): AbsenceRecord {
  return { daysAtHome: 0, daysAway: 0, reached: HABIT.map(() => 0), run: null, journeyEnded: null };
}

/** A day on which nothing was registered. */
export function zeroDay(record: AbsenceRecord, date: LocalDate) {
  if (record.run) {
    record.run.to = date;
    record.run.reportedDays += 1;
  } else {
    record.run = { from: date, to: date, reportedDays: 1 };
  }
}

/**
 * A day on which water was registered. It ends a run, which is remembered as an absence.
 *
 * @param absenceShare how far the run was an absence, 0 to 1: less where the meter had been stalled
 */
export function wetDay(record: AbsenceRecord, absenceShare: number) {
  record.daysAtHome += 1;
  if (!record.run) return;
  const length = lengthOf(record.run);
  record.daysAway += absenceShare * length;
  record.reached = HABIT.map(
    ({ days }, index) => reachedBy(record, index) + (length >= days ? absenceShare : 0),
  );
  if (length >= JOURNEY_DAYS) record.journeyEnded = record.run.to;
  record.run = null;
}

/** Days from the first to the last of a run. */
export function lengthOf(run: ZeroRun): number {
  return run.to - run.from + 1;
}

/** Ended runs of this home that lasted `days` or, where that length is not counted, the next shorter one that is. */
export function runsAsLong(record: AbsenceRecord, days: number): number {
  return reachedBy(record, stepOf(days));
}

/** How many absences of at least `days` days begin a day at this home, by its own record and that of the fleet. */
export function absencesPerDay(record: AbsenceRecord, days: number): number {
  const step = stepOf(days);
  const rate = rateOfReaching(record, step);
  const beyond = days - (HABIT[step]?.days ?? 0);
  const next = HABIT[step + 1];
  if (!next) return rate * 0.5 ** (beyond / HALVING_DAYS);
  // Between two lengths the rate falls evenly in proportion.
  const span = next.days - (HABIT[step]?.days ?? 0);
  return rate * (rateOfReaching(record, step + 1) / rate) ** (beyond / span);
}

function stepOf(days: number): number {
  return Math.max(
    0,
    HABIT.findLastIndex((each) => each.days <= days),
  );
}

/** Rate a day of runs that reach a length: short ones and journeys add up while the run may still be either. */
function rateOfReaching(record: AbsenceRecord, step: number): number {
  const journeys = rateOf(record, Math.max(step, JOURNEY), JOURNEY, { runs: 0, perYear: 0 });
  if (step >= JOURNEY) return journeys;
  const beyond = { runs: reachedBy(record, JOURNEY), perYear: perYear(JOURNEY) };
  return journeys + rateOf(record, step, 0, beyond);
}

/**
 * Rate a day of the runs that begin at the length of `start`, end before those of `beyond`, and reach that of `step`.
 * Where runs begin is a Poisson process whose rate has a gamma prior; how long they last has a Dirichlet prior about
 * the fleet's habit, so that a home's own long runs count at once.
 */
function rateOf(
  record: AbsenceRecord,
  step: number,
  start: number,
  beyond: { runs: number; perYear: number },
): number {
  const runs = reachedBy(record, start) - beyond.runs;
  const fleet = perYear(start) - beyond.perYear;
  const ownRate = (SHAPE + runs) / ((SHAPE * DAYS_A_YEAR) / fleet + record.daysAtHome);
  const rate = goesOn(record) ? Math.max(ownRate, GOES_ON_PER_DAY) : ownRate;
  const habit = (perYear(step) - beyond.perYear) / fleet;
  return (rate * (HABIT_WEIGHT * habit + reachedBy(record, step) - beyond.runs)) / (HABIT_WEIGHT + runs);
}

function goesOn({ run, journeyEnded }: AbsenceRecord): boolean {
  return run !== null && journeyEnded !== null && run.from - journeyEnded <= LOOKED_IN_DAYS + 1;
}

function perYear(step: number): number {
  return HABIT[step]?.perYear ?? 0;
}

function reachedBy(record: AbsenceRecord, step: number): number {
  return record.reached[step] ?? 0;
}
