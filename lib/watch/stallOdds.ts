import type { Unit } from '../../shared/registry.ts';
import type { LocalDate } from '../../shared/time/localDate.ts';
import { lengthOf, type ZeroRun } from '../demand/absence.ts';
import { absencesPerDay } from '../demand/awayHabit.ts';
import { dwindlingRatio } from '../unit/registration.ts';
import type { Period, UnitState } from '../unit/state.ts';
import type { NoFlowRules } from './rules/noFlow.ts';

const DAYS_A_YEAR = 365.25;

/**
 * The posterior of a stall on the last day of a run of zero days. Either the meter stalled on its first day, or an
 * absence began that has lasted as long: how many of each begin a day is what is weighed. What was said, seen and
 * answered since moves the odds.
 */
export function stallProbability(unit: Unit, state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const { memories } = state;
  const visited = visitedOn(unit, state, run);
  if (visited !== null && memories.visits.found.includes('meter-stalled')) {
    return probabilityOf(oddsSince(visited, state, run, rules));
  }
  const nothingFound = visited !== null && memories.visits.nothing ? rules.overlooked : 1;
  const counted = run.countedGallons >= rules.aliveGallons ? rules.aliveThoughStalled : 1;
  const factors = nothingFound * counted * saidFactor(state, run.from, run, rules);
  const odds = stallsPerDay(state, run, rules) / absenceWeight(state, run, rules);
  return probabilityOf(odds * factors * answerFactor(unit, state, run, rules));
}

function probabilityOf(odds: number): number {
  return 1 / (1 + 1 / odds);
}

/** How many meters a day stall at homes like this, and register nothing for as long as the run. */
function stallsPerDay(state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const { registration, household, memories } = state;
  const { obstructed, since } = memories.meterShare;
  const days = lengthOf(run);
  // An announced absence hides a stall on any of its days; otherwise the run began with it.
  const ways = announced(state, run) ? days : 1;
  const dwindling = dwindlingRatio(registration, Math.sqrt(household.spread));
  const sound = (rules.stallsPerUnitYear / DAYS_A_YEAR) * (1 + rules.dwindles * (dwindling - 1));
  const isRecent = run.from - since <= rules.dwindlesWithinDays;
  const sinking = obstructed * (isRecent ? rules.stallsADwindlingDay : rules.stallsAnObstructedDay);
  return ways * (sound + sinking) * Math.exp(-rules.mendedADay * days);
}

/** How often, a day, an absence begins that would look like this run. */
function absenceWeight(state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const away = announced(state, run);
  // What lies in a gap of the reports may have been days at home.
  if (!away) return absencesPerDay(state.absence, run.reportedDays);
  // The day of the return is often spent on the road.
  const over = run.to - (away.to + 1);
  return over <= 0 ? 1 : rules.tripExtended * rules.extensionGoesOn ** over;
}

/** The announced absence that a run lies in or follows on; households leave a day early. */
function announced({ away }: UnitState, run: ZeroRun): Period | null {
  return away && overlaps(away, run) && run.from >= away.from - 1 ? away : null;
}

/** Whether the household has said that it is away on the last day of a run, or on its way home. */
export function isAnnounced(state: UnitState, run: ZeroRun): boolean {
  const away = announced(state, run);
  return away !== null && run.to <= away.to + 1;
}

/** Whether the household has said that it was there, and drew water, on a day of a run from a date on. */
export function wasThere({ atHome }: UnitState, from: LocalDate, run: ZeroRun): boolean {
  return atHome !== null && overlaps(atHome, { from, to: run.to });
}

function saidFactor(state: UnitState, from: LocalDate, run: ZeroRun, rules: NoFlowRules): number {
  return wasThere(state, from, run) ? 1 / rules.saysAtHomeWhileAway : 1;
}

export function overlaps(a: Period, b: Period): boolean {
  return a.from <= b.to && b.from <= a.to;
}

/** The local day of the last visit if the run had begun by then. */
function visitedOn(unit: Unit, { memories }: UnitState, run: ZeroRun): LocalDate | null {
  const { at } = memories.visits;
  if (at === null) return null;
  const date = unit.zone.dateAt(at);
  return date >= run.from ? date : null;
}

/** The local day of the visit in a run that found the meter stalled; what was zero until then is settled. */
export function foundOn(unit: Unit, state: UnitState, run: ZeroRun): LocalDate | null {
  return state.memories.visits.found.includes('meter-stalled') ? visitedOn(unit, state, run) : null;
}

/**
 * The odds that a meter which was found stalled still is, or is again: it was mended, and the household is away since,
 * or nobody was there in the first place. 0 until a whole day has passed.
 */
function oddsSince(visited: LocalDate, state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const days = Math.min(run.to - visited, run.reportedDays);
  if (days <= 0) return 0;
  const inVain = state.memories.visits.worked ? rules.mendedInVain : rules.leftStalled;
  const wasEmpty = rules.visitedWhileAway * rules.extensionGoesOn ** days;
  const isAway = isAnnounced(state, run) ? 1 : Math.min(1, absencesPerDay(state.absence, days) + wasEmpty);
  return ((inVain / (1 - inVain)) * saidFactor(state, visited + 1, run, rules)) / isAway;
}

/** No answer to a question is evidence too, if little: who is away answers almost as often as who is at home. */
function answerFactor(
  unit: Unit,
  { askedAt, lastDate }: UnitState,
  run: ZeroRun,
  rules: NoFlowRules,
): number {
  if (askedAt === null || lastDate === null) return 1;
  const asked = unit.zone.dateAt(askedAt);
  if (asked < run.from || lastDate <= asked) return 1;
  const answered = 1 - 0.5 ** ((lastDate - asked) / rules.answerHalfDays);
  return (1 - rules.answersAtHome * answered) / (1 - rules.answersAway * answered);
}
