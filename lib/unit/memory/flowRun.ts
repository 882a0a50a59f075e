import type { LocalDate } from '../../../shared/time/localDate.ts';
import { keptShort } from './keptShort.ts';
import type { FlowRules } from './rules/flow.ts';

/** Days in a row on which water never stopped; days without a report in between count as part of it. */
export interface FlowRun {
  readonly from: LocalDate;
  readonly to: LocalDate;
  /** Days of it that were reported. */
  readonly days: number;
  /** US gallons of those days together, and of the least of them. */
  readonly gallons: number;
  readonly leastGallons: number;
  /** What a day drew before, US gallons. */
  readonly usualGallons: number;
  /** What tells of it: flow that filled the day, flow in each hour, or the least use of a week. */
  readonly by: 'minutes' | 'hours' | 'least-use';
  /** Whether somebody came since it began. */
  readonly visited: boolean;
  /** Probability of a leak or a running fixture. */
  readonly leak: number;
}

/** The runs of a unit. */
export interface RunRecord {
  /** Days on which the unit has sensed how long water flows, up to two years of them. */
  readonly days: number;
  /** Runs that ended without a visit and reached each of RUN_DAYS, older ones fading. */
  readonly ended: readonly number[];
}

const RUN_DAYS = [1, 2, 4, 8] as const;
const DAYS_A_YEAR = 365.25;
const MEMORY_DAYS = 2 * DAYS_A_YEAR;

/** Of a unit that has reported nothing yet. */
export const UNSEEN: RunRecord = { days: 0, ended: RUN_DAYS.map(() => 0) };

/** A run with more days; or a new one of them, of which only is known what tells of it and what is usual. */
export function goneOn(
  run: FlowRun | Pick<FlowRun, 'by' | 'usualGallons'>,
  days: readonly { readonly date: LocalDate; readonly gallons: number }[],
  record: RunRecord,
  rules: FlowRules,
): FlowRun {
  const uses = days.map(({ gallons }) => gallons);
  const begun = 'from' in run ? run : null;
  const from = begun?.from ?? days[0]?.date ?? 0;
  const count = (begun?.days ?? 0) + days.length;
  return {
    from,
    to: days.at(-1)?.date ?? from,
    days: count,
    gallons: tenths(uses.reduce((sum, each) => sum + each, begun?.gallons ?? 0)),
    leastGallons: tenths(Math.min(begun?.leastGallons ?? Number.POSITIVE_INFINITY, ...uses)),
    usualGallons: tenths(run.usualGallons),
    by: run.by,
    visited: begun?.visited ?? false,
    leak: leakProbability(run.by, count, record, rules),
  };
}

/**
 * A leak lasts; what runs all day for a good reason ends. The posterior after n whole days is the rate of leaks over (that
 * + the rate of good reasons that last n days), the latter by the unit's own record and that of its like: a Poisson
 * process whose rate has a gamma prior.
 */
function leakProbability(by: FlowRun['by'], count: number, record: RunRecord, rules: FlowRules): number {
  const { leaksPerUnitYear: leaks, risesPerUnitYear, fillingsPerUnitYear, fullHoursPerUnitYear } = rules;
  if (by === 'least-use') return keptShort(leaks / (leaks + risesPerUnitYear));
  const often = by === 'minutes' ? fillingsPerUnitYear : fullHoursPerUnitYear;
  const own = record.ended[RUN_DAYS.findLastIndex((length) => length <= count)] ?? 0;
  const alike = often * rules.goesOn ** (count - 1);
  const reasons = (rules.alike + own) / (rules.alike / alike + record.days / DAYS_A_YEAR);
  return keptShort(leaks / (leaks + reasons));
}

/** The record with a day more, and with the run that ended on it if one did. What a visit ended was a leak. */
export function counted(record: RunRecord, over: FlowRun | null, rules: FlowRules): RunRecord {
  const { days, ended } = record;
  const isReason = over !== null && !over.visited;
  if (!isReason && days === MEMORY_DAYS && isNone(ended)) return record;
  const isFull = days + 1 > MEMORY_DAYS;
  if (!isFull && !isReason) return { days: days + 1, ended };
  const stays = isFull ? MEMORY_DAYS / (days + 1) : 1;
  return {
    days: Math.min(MEMORY_DAYS, days + 1),
    ended: ended.map((each, step) => {
      const reached = isReason && over.days >= (RUN_DAYS[step] ?? 0);
      return keptShort(each * stays + (reached ? rules.endsUnmended : 0));
    }),
  };
}

function isNone(ended: readonly number[]): boolean {
  for (let step = 0; step < ended.length; step++) if (ended[step] !== 0) return false;
  return true;
}

function tenths(gallons: number): number {
  return Math.round(gallons * 10) / 10;
}
