import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { lengthOf, runsAsLong, type ZeroRun } from '../demand/absence.ts';
import { absencesPerDay } from '../demand/awayHabit.ts';
import { remainingGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { type Finding, only, severityOf, type WatchedKind } from './kind.ts';
import type { NoFlowRules } from './rules/noFlow.ts';
import { foundOn, isAnnounced, overlaps, stallProbability, wasThere } from './stallOdds.ts';

const DAYS_A_YEAR = 365.25;

/**
 * A stalled meter against a household that is away: both register nothing day after day. The posterior is that of
 * stallOdds.ts; the household is asked first, for nobody can be both early and sure.
 */
export const noFlow: WatchedKind<NoFlowRules> = {
  kind: 'no-flow',
  consequenceOf: [],
  heeds: ['flow-day', 'regeneration', 'service-visit', 'away', 'at-home', 'question'],
  look(unit, state, rules, _at, isOpen) {
    const { run } = state.absence;
    if (!run) return null;
    const probability = stallProbability(unit, state, run, rules);
    const severity = severityAt(unit, state, run, probability, rules);
    if (severity === null && !isOpen) return null;
    return {
      probability,
      causes: only('meter-stalled'),
      severity,
      lasts: probability >= rules.clear && !isAnnounced(state, run),
      summary: () => summary(unit, state, run, { severity, probability }),
      evidence: () => evidence(unit, state, run),
    };
  },
};

/** A technician goes when a stall is nearly certain, or likely enough for the harm that it does by now. */
function severityAt(
  unit: Unit,
  state: UnitState,
  run: ZeroRun,
  probability: number,
  rules: NoFlowRules,
): Severity | null {
  const asked = severityOf(probability, rules);
  if (!asked || isAnnounced(state, run)) return null;
  // What one would ask has been answered.
  const found = foundOn(unit, state, run);
  if (wasThere(state, found === null ? run.from : found + 1, run)) return 'soon';
  const { daysAtHome, daysAway } = state.absence;
  if (daysAtHome < rules.soonAfterDays) return 'routine';
  // A house that stands empty most of the time is asked, and visited only on a near certainty.
  if (daysAway > daysAtHome) return asked;
  const days = found === null ? lengthOf(run) : run.to - found;
  const isLate = days >= rules.lateDays && probability >= rules.soonWhenLate;
  return isLate || probability * days >= rules.soonAtStalledDays ? 'soon' : asked;
}

/** Days of a run on which the bed would have been exhausted, had the household used water as usual. */
function hardDays(state: UnitState, run: ZeroRun): number {
  const daysLeft = Math.max(0, remainingGallons(state)) / state.household.level;
  return Math.max(0, lengthOf(run) - daysLeft);
}

function summary(
  unit: Unit,
  state: UnitState,
  run: ZeroRun,
  { severity, probability }: Pick<Finding, 'severity' | 'probability'>,
): string {
  const found = foundOn(unit, state, run);
  const since =
    found === null ? '' : `, and goes on although it was found stalled on ${formatLocalDate(found)}`;
  const what = `The meter has registered nothing for ${lengthOf(run)} days, since ${formatLocalDate(run.from)}${since}`;
  if (severity !== 'soon')
    return `${what}: ask the household whether it is away; if not, the meter has stalled.`;
  return probability >= 0.5
    ? `${what}: it has probably stalled, and the control will not regenerate until it counts again.`
    : `${what}: the house may stand empty, or the meter has stalled and the control will not regenerate; after so long somebody should look.`;
}

function evidence(unit: Unit, state: UnitState, run: ZeroRun) {
  const { household, absence, registration, away, memories } = state;
  const found = foundOn(unit, state, run);
  return {
    zeroDaysFrom: formatLocalDate(run.from),
    zeroDaysTo: formatLocalDate(run.to),
    zeroDays: lengthOf(run),
    zeroDaysReported: run.reportedDays,
    usualGallonsPerDay: household.level,
    absencesThisLongPerYear: absencesPerDay(absence, lengthOf(run)) * DAYS_A_YEAR,
    runsAsLongBefore: runsAsLong(absence, lengthOf(run)),
    absencesThatTrickled: absence.trickledJourneys,
    daysOfRecord: absence.daysAtHome,
    householdSaidAway: away && overlaps(away, run) ? formatLocalDate(away.to) : null,
    householdSaidAtHome: wasThere(state, run.from, run),
    foundStalledOn: found === null ? null : formatLocalDate(found),
    obstructedBefore: memories.meterShare.obstructed,
    recentUseOverUsual: registration.recentUseShare,
    recentPeakOverUsual: registration.peakDays > 0 ? registration.recentPeakShare : null,
    countedAllTheSameGallons: run.countedGallons,
    bedLeftGallonsByMeter: remainingGallons(state),
    // What the stall hides: had the household been there all along, the bed would have gone on treating.
    hardWaterDaysIfDrawing: hardDays(state, run),
  };
}
