import type { LocalDate } from '../../shared/time/localDate.ts';
import { dayOf, type ScoredUnit } from './scoredUnit.ts';
import { stallsOf } from './stallScore.ts';

/** One reported day of a run on which a meter registered nothing. */
export interface ZeroDay {
  readonly date: LocalDate;
  /** The how-manieth reported day of its run, from 1. */
  readonly nth: number;
  /** Whether the meter was stalled. */
  readonly isStalled: boolean;
  /** The probability of a stalled meter that was said last when the day was known; 0 where no alert was open. */
  readonly said: number;
}

/** Days without flow that no day with flow comes between; days without a report may. */
export interface ZeroRun {
  readonly days: readonly ZeroDay[];
  /** Whether a day with flow ended it. */
  readonly endedOn: LocalDate | null;
}

/** The runs of days without flow of a unit; none where its events were not read. */
export function zeroRunsOf(unit: ScoredUnit): ZeroRun[] {
  const stalls = stallsOf(unit);
  const runs: ZeroRun[] = [];
  let days: ZeroDay[] = [];
  for (const [date, drew] of unit.seen?.drew ?? []) {
    if (date < unit.from || date > unit.to) continue;
    if (!drew) {
      const isStalled = stalls.some(({ from, to }) => date >= from && date < to);
      days.push({ date, nth: days.length + 1, isStalled, said: saidOf(unit, date) });
    } else if (days.length > 0) {
      runs.push({ days, endedOn: date });
      days = [];
    }
  }
  return days.length > 0 ? [...runs, { days, endedOn: null }] : runs;
}

/** What was said last of a stalled meter on the day after a date, when that date's flow was known. */
function saidOf(unit: ScoredUnit, date: LocalDate): number {
  const knownOn = date + 1;
  const open = unit.alerts.filter(
    ({ kind, raisedAt, clearedAt }) =>
      kind === 'no-flow' &&
      dayOf(unit, raisedAt) <= knownOn &&
      (clearedAt === null || dayOf(unit, clearedAt) > knownOn),
  );
  const steps = open.flatMap(({ history }) => history.filter(({ at }) => dayOf(unit, at) <= knownOn));
  return steps.reduce((last, step) => (Date.parse(step.at) >= Date.parse(last.at) ? step : last), {
    at: '1970-01-01T00:00:00Z',
    probability: 0,
  }).probability;
}
