import type { AlertKind } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { lengthOf } from '../demand/absence.ts';
import { useAhead } from '../demand/useAhead.ts';
import { controlCapacityGallons, outlook, remainingGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import type { Episode } from '../watch/episode.ts';

/** So far ahead is looked at what happens if nobody comes. */
const AHEAD_DAYS = 14;

/** What is wrong with a unit, in days of hard water. */
export interface Harm {
  /** Days since the bed ran out, up to the last one reported; 0 while it has not. */
  readonly hardDaysSoFar: number;
  /** Days of the next 14 on which the water is to be expected hard if nobody comes, as far as what is open is real. */
  readonly hardDaysExpected: number;
}

/** While one of these is open the bed is not brought back by a regeneration: there is none, or none with salt. */
const NOT_BROUGHT_BACK: ReadonlySet<AlertKind> = new Set(['no-flow', 'no-salt-draw', 'missed-regeneration']);
/** Kinds whose harm is hard water. */
const HARDENS: ReadonlySet<AlertKind> = new Set([...NOT_BROUGHT_BACK, 'overrun', 'setting-mismatch']);

/**
 * What else a kind does within a fortnight, in days of hard water that are as bad: water that runs away, salt that is
 * wasted, a unit that nobody can watch. Judgements, no source.
 */
const OTHER_HARM: Readonly<Record<AlertKind, number>> = {
  'no-flow': 1,
  'low-registration': 2,
  'no-salt-draw': 1,
  overrun: 1,
  'missed-regeneration': 1,
  'early-regeneration': 1.5,
  'setting-mismatch': 1,
  'clock-off': 1,
  'long-regeneration': 3,
  'continuous-flow': 7,
  'salt-low': 0.5,
  'silent-unit': 0.7,
};

/**
 * What is at stake at a unit with open episodes.
 *
 * @param asOf the last local day counted
 */
export function harmOf(unit: Unit, state: UnitState, open: readonly Episode[], asOf: LocalDate): Harm {
  const hardDaysSoFar = hardSoFar(state, asOf);
  const isLost = open.some(({ kind }) => NOT_BROUGHT_BACK.has(kind));
  if (isLost) return { hardDaysSoFar, hardDaysExpected: hardUnlessHelped(state, asOf) };
  const isMisset = open.some(
    ({ kind, cause }) => kind === 'setting-mismatch' || cause === 'capacity-setting',
  );
  const hardDaysExpected = Math.max(
    hardUntilRegenerated(unit, state, asOf),
    isMisset ? AHEAD_DAYS * hardShareOfCycle(unit, state) : 0,
  );
  return { hardDaysSoFar, hardDaysExpected };
}

/** Harm by probability: the list is sorted by it, the worst first. Hard days that are long past count no more. */
export function weightOf(episode: Episode, { hardDaysSoFar, hardDaysExpected }: Harm): number {
  const hardDays = HARDENS.has(episode.kind) ? Math.min(hardDaysSoFar, AHEAD_DAYS) + hardDaysExpected : 0;
  return probabilityOf(episode) * (hardDays + OTHER_HARM[episode.kind]);
}

/** How probable an episode's condition was when last something noteworthy was seen of it. */
export function probabilityOf({ history }: Episode): number {
  return history.at(-1)?.probability ?? 0;
}

function hardSoFar(state: UnitState, asOf: LocalDate): number {
  const { exhaustedOn } = state.bed;
  if (exhaustedOn !== null) return Math.max(0, asOf - exhaustedOn + 1);
  const daysLeft = Math.max(0, remainingGallons(state)) / state.household.level;
  return Math.floor(Math.max(0, unseenDays(state) - daysLeft));
}

/** Days on which a meter has registered nothing: if it has stalled, the household used water all the same. */
function unseenDays({ absence }: UnitState): number {
  return absence.run ? lengthOf(absence.run) : 0;
}

/** Nobody brings the bed back: once it has run out it stays so. */
function hardUnlessHelped(state: UnitState, asOf: LocalDate): number {
  const { household } = state;
  const ahead = useAhead(unseenDays(state) > 0 ? { ...household, away: 0, awayDays: 0 } : household, asOf);
  const left = remainingGallons(state) - unseenDays(state) * household.level;
  let days = 0;
  for (let day = 1; day <= AHEAD_DAYS; day++) days += ahead.reaches(day, left);
  return days;
}

/** The share of each cycle that the bed does not last for, as the control is set: soft days give way to hard ones, over and over. */
function hardShareOfCycle({ alternating }: Unit, state: UnitState): number {
  const reserve = alternating ? 0 : state.household.level;
  const cycle = controlCapacityGallons(state) - reserve;
  const lasts = state.bed.capacityGrains / state.compensatedHardnessGpg;
  return Number.isFinite(cycle) && cycle > lasts ? (cycle - lasts) / cycle : 0;
}

/** A bed that has run out comes back with the next regeneration. */
function hardUntilRegenerated(unit: Unit, state: UnitState, asOf: LocalDate): number {
  if (state.bed.exhaustedOn === null) return 0;
  const next = parseLocalDate(outlook(unit, state, asOf).nextRegeneration.p50 ?? '');
  return next === undefined ? AHEAD_DAYS : Math.min(AHEAD_DAYS, Math.max(0, next - asOf - 1));
}
