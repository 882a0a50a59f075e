import * as z from 'zod';
import type { Severity } from '../../shared/alerts.ts';
import type { Unit } from '../../shared/registry.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import { lengthOf, runsAsLong, type ZeroRun } from '../demand/absence.ts';
import { absencesPerDay } from '../demand/awayHabit.ts';
import { remainingGallons } from '../unit/outlook.ts';
import type { UnitState } from '../unit/state.ts';
import { type Finding, only, severityOf, type WatchedKind } from './kind.ts';
import { foundOn, isAnnounced, overlaps, stallProbability, wasThere } from './stallOdds.ts';

const probability = () => z.number().min(0).max(1);
const positive = () => z.number().positive();

export const noFlowRulesSchema = () =>
  z.strictObject({
    stallsPerUnitYear: positive()
      .default(0.03)
      .describe(
        'How often a meter stalls: once in some 33 years. A guess, no source; a company knows its own meters. Twice as many or half as many put the probabilities off by less than 0.05 on average',
      ),
    routine: probability()
      .default(0.12)
      .describe(
        'From here the household is asked: seven questions in eight for nothing at the worst, and each costs nearly nothing',
      ),
    soon: probability()
      .default(0.85)
      .describe('From here a technician is sent at once: one trip in seven for nothing at the worst'),
    soonAtStalledDays: positive()
      .default(9)
      .describe(
        'So many days of a stalled meter to be expected (days without flow, times the probability) send one too: the harm grows',
      ),
    lateDays: positive()
      .default(20)
      .describe('After so many days a stall has done harm for weeks; few absences last as long'),
    soonWhenLate: probability()
      .default(0.12)
      .describe(
        'From here a technician is sent after so many days, if the household has not said that it is away: one chance in eight is worth the trip by then',
      ),
    soonAfterDays: z
      .int()
      .min(0)
      .default(14)
      .describe(
        'Nobody is sent to a meter that has not yet registered water on so many days, unless the household says that it is there: nobody may live there',
      ),
    clear: probability().default(0.06).describe('An open episode ends below this: half of what raises it'),
    dwindles: probability()
      .default(0.3)
      .describe('Share of stalls that a falling registration announces. A guess, no source'),
    stallsADwindlingDay: probability()
      .default(0.03)
      .describe(
        'How often, a day, a meter stalls that has lately come to register less than flows: once in a month. A guess, no source; most of them are only obstructed',
      ),
    stallsAnObstructedDay: probability()
      .default(0.003)
      .describe('The same of one that has done so for longer: once in a year. A guess, no source'),
    dwindlesWithinDays: positive()
      .default(21)
      .describe('How long that is lately: a turbine that seizes does so within weeks. A guess, no source'),
    mendedADay: z
      .number()
      .min(0)
      .default(0.015)
      .describe(
        'How often, a day, a stalled meter is mended, which ends its run of days: once in two months. A guess, no source',
      ),
    overlooked: probability()
      .default(0.1)
      .describe('Probability that a technician at a stalled meter finds nothing wrong. A guess, no source'),
    mendedInVain: probability()
      .default(0.05)
      .describe(
        'Probability that a meter which was found stalled and worked on still is. A guess, no source',
      ),
    leftStalled: probability()
      .default(0.3)
      .describe('The same where nothing is said of any work. A guess, no source'),
    visitedWhileAway: probability()
      .default(0.1)
      .describe('Share of visits to a house in which nobody is for days after. A guess, no source'),
    aliveGallons: positive()
      .default(5)
      .describe('So much counted by the meter or the control in spite of days without flow is no rounding'),
    aliveThoughStalled: probability()
      .default(0.01)
      .describe(
        'How often a stalled meter nevertheless seems to count: a meter was exchanged, a report is wrong. A guess, no source',
      ),
    answerHalfDays: positive()
      .default(1)
      .describe(
        'Half of the households that answer a question have done so after so many days. A guess, no source',
      ),
    answersAtHome: probability()
      .default(0.6)
      .describe('Share of the households at home that ever answer. A guess, no source'),
    answersAway: probability()
      .default(0.5)
      .describe('Share of those away that do: on a telephone it is as easy. A guess, no source'),
    tripExtended: probability()
      .default(0.2)
      .describe('Share of announced absences that last a day longer than announced. A guess, no source'),
    extensionGoesOn: probability()
      .default(0.8)
      .describe('Share of those that go on for each further day. A guess, no source'),
    saysAtHomeWhileAway: probability()
      .default(0.005)
      .describe(
        'Share of households that say they were there although nobody drew water: a slip of the finger. A guess, no source',
      ),
  });

export type NoFlowRules = z.infer<ReturnType<typeof noFlowRulesSchema>>;

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
