import type { LocalDate } from '../../shared/time/localDate.ts';

/**
 * When a household was away, from the runs of days on which its meter registered nothing. An absence looks exactly like
 * a stalled meter; what tells them apart is how usual so long a run is at this home (see awayHabit.ts).
 */
export interface AbsenceRecord {
  /** Days seen on which it might have left, i.e. on which water was registered. */
  daysAtHome: number;
  /** Days of ended absences. */
  daysAway: number;
  /** Ended runs that reached each of LENGTHS. */
  reached: number[];
  /** The run that lasts. */
  run: ZeroRun | null;
  /** The end of the last run that was a journey. */
  journeyEnded: LocalDate | null;
  /** Days in a row, up to the last, of next to nothing: something goes on drawing while nobody is there. */
  trickleDays: number;
  /** How often that went on for as long as a journey: in such a home absences hardly ever make a run. */
  trickledJourneys: number;
  /** The meter's running total on the last day that told it, US gallons. */
  registerGallons: number | null;
}

/** Consecutive local days on which nothing was registered; days without a report in between count as part of it. */
export interface ZeroRun {
  from: LocalDate;
  to: LocalDate;
  /** Days of it that were reported. */
  reportedDays: number;
  /** What was counted meanwhile all the same, by the meter's running total or by the control, US gallons. */
  countedGallons: number;
}

/** Lengths of runs that are told apart, days. */
export const LENGTHS = [1, 2, 3, 5, 7, 10, 14, 21, 28, 42, 60] as const;
/** From this length on a run is a journey rather than a day out. */
export const JOURNEY_DAYS = 3;
/** Somebody who looks after an empty house draws a little now and then. From holiday homes of fixtures/daiad-alicante. */
const LOOKED_IN_DAYS = 3;
/** After so many days at home the past is halved: homes change hands and habits. A judgement, no source. */
const HALVED_AT_DAYS = 4 * 365;

/** A home of which nothing is known but its fleet. */
export function newAbsenceRecord(): AbsenceRecord {
  return {
    daysAtHome: 0,
    daysAway: 0,
    reached: LENGTHS.map(() => 0),
    run: null,
    journeyEnded: null,
    trickleDays: 0,
    trickledJourneys: 0,
    registerGallons: null,
  };
}

/** A copy that shares nothing that is written to. */
export function copyAbsenceRecord(record: AbsenceRecord): AbsenceRecord {
  const { run } = record;
  return {
    daysAtHome: record.daysAtHome,
    daysAway: record.daysAway,
    reached: record.reached,
    run: run && {
      from: run.from,
      to: run.to,
      reportedDays: run.reportedDays,
      countedGallons: run.countedGallons,
    },
    journeyEnded: record.journeyEnded,
    trickleDays: record.trickleDays,
    trickledJourneys: record.trickledJourneys,
    registerGallons: record.registerGallons,
  };
}

/** A day on which nothing was registered. */
export function zeroDay(record: AbsenceRecord, date: LocalDate, registerGallons?: number) {
  record.trickleDays = 0;
  if (record.run) {
    record.run.to = date;
    record.run.reportedDays += 1;
  } else {
    record.run = { from: date, to: date, reportedDays: 1, countedGallons: 0 };
  }
  if (registerGallons === undefined) return;
  // A total that fell belongs to another meter.
  record.run.countedGallons += Math.max(0, registerGallons - (record.registerGallons ?? registerGallons));
  record.registerGallons = registerGallons;
}

/** The control counted something in a run on whose days nothing was reported. */
export function countedMeanwhile(record: AbsenceRecord, gallons: number) {
  if (record.run) record.run.countedGallons += gallons;
}

/** A day on which water was registered, and how. */
interface WetDay {
  /** Whether it was so little that nobody was there. */
  readonly isTrickle: boolean;
  readonly registerGallons?: number | undefined;
}

/**
 * A day on which water was registered. It ends a run, which is remembered as an absence.
 *
 * @param absenceShare how far the run was an absence, 0 to 1: less where the meter had been stalled
 */
export function wetDay(record: AbsenceRecord, { isTrickle, registerGallons }: WetDay, absenceShare: number) {
  record.daysAtHome += 1;
  record.registerGallons = registerGallons ?? record.registerGallons;
  record.trickleDays = isTrickle ? record.trickleDays + 1 : 0;
  if (record.trickleDays === JOURNEY_DAYS) record.trickledJourneys += 1;
  if (record.run) endRun(record, record.run, absenceShare);
  if (record.daysAtHome >= HALVED_AT_DAYS) halve(record);
}

function endRun(record: AbsenceRecord, run: ZeroRun, absenceShare: number) {
  const length = lengthOf(run);
  record.daysAway += absenceShare * length;
  record.reached = LENGTHS.map(
    (days, index) => reachedBy(record, index) + (length >= days ? absenceShare : 0),
  );
  if (length >= JOURNEY_DAYS) record.journeyEnded = run.to;
  record.run = null;
}

function halve(record: AbsenceRecord) {
  record.daysAtHome /= 2;
  record.daysAway /= 2;
  record.trickledJourneys /= 2;
  record.reached = record.reached.map((runs) => runs / 2);
}

/** Days from the first to the last of a run. */
export function lengthOf(run: ZeroRun): number {
  return run.to - run.from + 1;
}

/** Whether the run that lasts began so soon after a journey that it may be its going on. */
export function goesOn({ run, journeyEnded }: AbsenceRecord): boolean {
  return run !== null && journeyEnded !== null && run.from - journeyEnded <= LOOKED_IN_DAYS + 1;
}

/** Ended runs of this home that lasted `days` or, where that length is not told apart, the next shorter one that is. */
export function runsAsLong(record: AbsenceRecord, days: number): number {
  return reachedBy(record, Math.max(0, stepOf(days)));
}

/** The last of LENGTHS, by its place, that a run of so many days has reached. */
export function stepOf(days: number): number {
  return LENGTHS.findLastIndex((length) => length <= days);
}

/** Ended runs that reached a length, by its place. */
export function reachedBy(record: AbsenceRecord, step: number): number {
  return record.reached[step] ?? 0;
}
