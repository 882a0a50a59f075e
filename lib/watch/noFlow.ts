import * as z from 'zod';
import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { absencesPerDay, lengthOf, runsAsLong, type ZeroRun } from '../demand/absence.ts';
import { remainingGallons } from '../unit/outlook.ts';
import { dwindlingRatio } from '../unit/registration.ts';
import type { Period, UnitState } from '../unit/state.ts';
import { only, severityOf, type WatchedKind } from './kind.ts';

const probability = z.number().min(0).max(1);

export const noFlowRulesSchema = z.strictObject({
  stallsPerUnitYear: z
    .number()
    .positive()
    .default(0.04)
    .describe(
      'How often a meter stalls: once in some 25 years. A guess, no source; a company knows its own meters',
    ),
  routine: probability
    .default(0.16)
    .describe('From here the household is asked: a question costs nearly nothing'),
  soon: probability
    .default(0.85)
    .describe('From here a technician is sent at once: one trip in seven for nothing at the worst'),
  soonAtStalledDays: z
    .number()
    .positive()
    .default(9)
    .describe(
      'So many days of a stalled meter to be expected (days without flow, times the probability) send one too: the harm grows',
    ),
  lateDays: z
    .number()
    .positive()
    .default(20)
    .describe('After so many days a stall has done harm for weeks; few absences last as long'),
  soonWhenLate: probability
    .default(0.2)
    .describe(
      'From here a technician is sent after so many days: one chance in five is worth the trip by then',
    ),
  soonAfterDays: z
    .int()
    .min(0)
    .default(14)
    .describe(
      'Nobody is sent to a meter that has not yet registered water on so many days: nobody may live there',
    ),
  clear: probability.default(0.1).describe('An open episode ends below this: half of what raises it'),
  dwindles: probability
    .default(0.3)
    .describe('Share of stalls that a falling registration announces. A guess, no source'),
  obstructedOdds: z
    .number()
    .positive()
    .default(0.0015)
    .describe(
      'Odds that a meter is obstructed on any day, for the change that is found before a run to be weighed by: once in 20 years, for ten days',
    ),
  surestDwindling: z
    .number()
    .positive()
    .default(200)
    .describe(
      'However clear a change was, it counts for no more than this: a household changes before it leaves',
    ),
  foundByMistake: probability
    .default(0.005)
    .describe('Probability that a technician finds a sound meter stalled. A guess, no source'),
  overlooked: probability
    .default(0.1)
    .describe('Probability that a technician at a stalled meter finds nothing wrong. A guess, no source'),
  answerDays: z
    .int()
    .min(0)
    .default(3)
    .describe('Days after which a household that was asked and has not answered will hardly answer'),
  answersAtHome: probability
    .default(0.6)
    .describe('Share of the households at home that answer until then. A guess, no source'),
  answersAway: probability
    .default(0.5)
    .describe('Share of those away that do: on a telephone it is as easy. A guess, no source'),
  tripExtended: probability
    .default(0.2)
    .describe('Share of announced absences that last a day longer than announced'),
  extensionGoesOn: probability.default(0.85).describe('Share of those that go on for each further day'),
  saysAtHomeWhileAway: probability
    .default(0.005)
    .describe(
      'Share of households that say they were there although nobody drew water: a slip of the finger',
    ),
});

export type NoFlowRules = z.infer<typeof noFlowRulesSchema>;

const DAYS_A_YEAR = 365.25;

/**
 * A stalled meter against a household that is away: both register nothing day after day. A stall begins with the
 * fleet's hazard and lasts; an absence of this length begins as often as this home's own record says. The posterior
 * after n days of zeros is hazard / (hazard + rate of absences of n days or more), moved by what the household said.
 */
export const noFlow: WatchedKind<NoFlowRules> = {
  kind: 'no-flow',
  consequenceOf: [],
  look(unit, state, rules) {
    const { run } = state.absence;
    if (!run) return null;
    const probability = stallProbability(unit, state, run, rules);
    const severity = severityAt(state, run, probability, rules);
    return {
      probability,
      causes: only('meter-stalled'),
      severity,
      lasts: probability >= rules.clear,
      summary: () => summary(run, severity),
      evidence: () => evidence(state, run),
    };
  },
};

/** A technician goes when a stall is nearly certain, or likely enough for the harm that it does by now. */
function severityAt(
  state: UnitState,
  run: ZeroRun,
  probability: number,
  rules: NoFlowRules,
): Severity | null {
  const asked = severityOf(probability, rules);
  const { daysAtHome, daysAway } = state.absence;
  if (asked && daysAtHome < rules.soonAfterDays) return 'routine';
  // A house that stands empty most of the time is asked, and visited only on a near certainty.
  if (daysAway > daysAtHome) return asked;
  const days = lengthOf(run);
  const isLate = days >= rules.lateDays && probability >= rules.soonWhenLate;
  return asked && (isLate || probability * days >= rules.soonAtStalledDays) ? 'soon' : asked;
}

/** Days of a run on which the bed would have been exhausted, had the household used water as usual. */
function hardDays(state: UnitState, run: ZeroRun): number {
  const daysLeft = Math.max(0, remainingGallons(state)) / state.household.level;
  return Math.max(0, lengthOf(run) - daysLeft);
}

function stallProbability(unit: Unit, state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const hazard = rules.stallsPerUnitYear / DAYS_A_YEAR;
  const odds = (hazard * waysToStall(state, run)) / absenceWeight(unit, state, run, rules);
  const before = 1 + rules.dwindles * (dwindling(state, rules) - 1);
  const said = state.atHome && overlaps(state.atHome, run) ? 1 / rules.saysAtHomeWhileAway : 1;
  const posterior =
    odds * before * said * foundFactor(unit, state, run, rules) * answerFactor(unit, state, run, rules);
  return posterior / (1 + posterior);
}

/**
 * How much likelier the days before the run are of a meter on its way to a stop: by the last few of them, or by the
 * change that was found in how much of what flows it registers.
 */
function dwindling({ registration, household, memories }: UnitState, rules: NoFlowRules): number {
  const { obstructed } = memories.meterShare;
  const odds = obstructed / Math.max(1 - obstructed, 1e-9);
  const changed = Math.min(rules.surestDwindling, odds / rules.obstructedOdds);
  return Math.max(dwindlingRatio(registration, Math.sqrt(household.spread)), changed);
}

/** What a technician found who came while the meter registered nothing. */
function foundFactor(unit: Unit, { memories }: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const { at, found, nothing } = memories.visits;
  if (at === null || unit.zone.dateAt(at) < run.from) return 1;
  if (found.includes('meter-stalled')) return 1 / rules.foundByMistake;
  return nothing ? rules.overlooked : 1;
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
  if (asked < run.from || lastDate - asked < rules.answerDays) return 1;
  return (1 - rules.answersAtHome) / (1 - rules.answersAway);
}

/** An announced absence hides a stall on any of its days; otherwise the run began with it. */
function waysToStall(state: UnitState, run: ZeroRun): number {
  return announced(state, run) ? lengthOf(run) : 1;
}

/** How often, a day, an absence begins that would look like this one. */
function absenceWeight(unit: Unit, state: UnitState, run: ZeroRun, rules: NoFlowRules): number {
  const away = announced(state, run);
  if (away) {
    // The day of the return is often spent on the road.
    const over = run.to - (away.to + 1);
    return over <= 0 ? 1 : rules.tripExtended * rules.extensionGoesOn ** over;
  }
  return absencesPerDay(state.absence, unexplainedDays(unit, state, run));
}

/**
 * Reported days of a run (what lies in a gap may have been days at home), and only those since anybody was known to be
 * in the house: a technician was let in.
 */
function unexplainedDays(unit: Unit, state: UnitState, run: ZeroRun): number {
  if (state.lastVisit === null) return run.reportedDays;
  const visited = unit.zone.dateAt(state.lastVisit);
  return visited >= run.from && visited < run.to
    ? Math.min(run.to - visited, run.reportedDays)
    : run.reportedDays;
}

/** The announced absence that a run lies in or follows on; households leave a day early. */
function announced(state: UnitState, run: ZeroRun): Period | null {
  const { away } = state;
  return away && overlaps(away, run) && run.from >= away.from - 1 ? away : null;
}

function overlaps(a: { from: number; to: number }, b: { from: number; to: number }): boolean {
  return a.from <= b.to && b.from <= a.to;
}

function summary(run: ZeroRun, severity: Severity | null): string {
  const what = `The meter has registered nothing for ${lengthOf(run)} days, since ${formatLocalDate(run.from)}`;
  return severity === 'soon'
    ? `${what}: it has probably stalled, and the control will not regenerate until it counts again.`
    : `${what}: ask the household whether it is away; if not, the meter has stalled.`;
}

function evidence(state: UnitState, run: ZeroRun) {
  const { household, absence, registration, away, atHome } = state;
  return {
    zeroDaysFrom: formatLocalDate(run.from),
    zeroDaysTo: formatLocalDate(run.to),
    zeroDays: lengthOf(run),
    zeroDaysReported: run.reportedDays,
    usualGallonsPerDay: household.level,
    absencesThisLongPerYear: absencesPerDay(absence, lengthOf(run)) * DAYS_A_YEAR,
    runsAsLongBefore: runsAsLong(absence, lengthOf(run)),
    daysOfRecord: absence.daysAtHome,
    householdSaidAway: away && overlaps(away, run) ? formatLocalDate(away.to) : null,
    householdSaidAtHome: atHome !== null && overlaps(atHome, run),
    recentUseOverUsual: registration.recentUseShare,
    recentPeakOverUsual: registration.peakDays > 0 ? registration.recentPeakShare : null,
    bedLeftGallonsByMeter: remainingGallons(state),
    // What the stall hides: had the household been there all along, the bed would have gone on treating.
    hardWaterDaysIfDrawing: hardDays(state, run),
  };
}
