import type { Severity } from '../../shared/alerts.ts';
import { formatLocalDate } from '../../shared/time/localDate.ts';
import type { FlowRun } from '../unit/memory/flowRun.ts';
import { only, severityOf, type WatchedKind } from './kind.ts';
import type { ContinuousFlowRules } from './rules/continuousFlow.ts';

const MINUTES_A_DAY = 1_440;

/**
 * Water flows and never stops: a leak, or a fixture that was left running. The posterior is in
 * lib/unit/memory/flowRun.ts. It ends on the first day with a pause. A unit that senses neither the minutes nor the hours
 * of flow can hardly tell: only where each day of a week drew several times the usual is the household asked.
 */
export const continuousFlow: WatchedKind<ContinuousFlowRules> = {
  kind: 'continuous-flow',
  consequenceOf: [],
  heeds: ['flow-day', 'service-visit'],
  look(_unit, state, rules) {
    const { run } = state.memories.flow;
    if (!run) return null;
    return {
      probability: run.leak,
      causes: only('leak'),
      severity: severityAt(run, rules),
      lasts: true,
      summary: () => summary(run),
      evidence: () => evidence(run),
    };
  },
};

/** What the least use of a week tells is never more than a question to the household. */
function severityAt(run: FlowRun, { routine, soon }: ContinuousFlowRules): Severity | null {
  return severityOf(run.leak, run.by === 'least-use' ? { routine } : { routine, soon });
}

/** US gallons a day over the usual. */
function overUsual({ gallons, days, usualGallons }: FlowRun): number {
  return Math.max(0, gallons / days - usualGallons);
}

/** What runs without a pause, gal/min: no more than the least day drew. */
function leakGpm(run: FlowRun): number {
  return Math.min(overUsual(run), run.leastGallons) / MINUTES_A_DAY;
}

function lengthOf({ from, to }: FlowRun): number {
  return to - from + 1;
}

function summary(run: FlowRun): string {
  const over = `${Math.round(overUsual(run))} gallons a day more than usual (about ${leakGpm(run).toFixed(2)} gal/min)`;
  const days = lengthOf(run);
  const since = formatLocalDate(run.from);
  if (run.by === 'least-use')
    return `Each day since ${since} drew at least ${Math.round(run.leastGallons)} gallons, ${over}: something may run without a pause; ask the household.`;
  const how = days === 1 ? `for the whole of ${since}` : `without a pause for ${days} days, since ${since}`;
  return `Water has flowed ${how}, ${over}: a leak or a running fixture.`;
}

function evidence(run: FlowRun) {
  const { days, usualGallons, by, leastGallons, visited } = run;
  return {
    flowWithoutPauseFrom: formatLocalDate(run.from),
    flowWithoutPauseTo: formatLocalDate(run.to),
    wholeDays: lengthOf(run),
    wholeDaysReported: days,
    toldBy: by,
    gallonsPerDay: run.gallons / days,
    usualGallonsPerDay: usualGallons,
    gallonsPerDayOverUsual: overUsual(run),
    leastGallonsOfADay: leastGallons,
    leakGpm: leakGpm(run),
    gallonsLost: overUsual(run) * lengthOf(run),
    visitedSince: visited,
  };
}
