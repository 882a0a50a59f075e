import * as z from 'zod';
import type { FlowDay } from '../../../shared/facts.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import { keptShort } from './keptShort.ts';
import { type LeastUse, leastOf, tookDay } from './leastUse.ts';
import type { Memory, Seen } from './memory.ts';

const rate = z.number().min(0);
const share = z.number().min(0).max(1);
const gallons = z.number().min(0);

export const flowRulesSchema = z.strictObject({
  leaksPerUnitYear: rate
    .positive()
    .default(0.1)
    .describe(
      'How often a leak or a fixture left running begins. A guess: one home in ten leaks 90 gallons a day or more (EPA, Fix a Leak Week 2012)',
    ),
  fillingsPerUnitYear: rate
    .positive()
    .default(0.03)
    .describe(
      'How often water flows for a whole day for a good reason: a pool is filled. A guess, no source',
    ),
  fullHoursPerUnitYear: rate
    .positive()
    .default(0.3)
    .describe(
      'The same where only the hours with flow are sensed: many people draw in each of them by chance. A guess',
    ),
  goesOn: share.default(0.2).describe('Share of such that go on for each further day. A guess, no source'),
  risesPerUnitYear: rate
    .positive()
    .default(0.03)
    .describe(
      'How often use rises on all days of a week as by a leak, and there is none: many guests, a garden watered daily. A guess; invented homes show less (3 in 1,000 unit-years at three times the usual)',
    ),
  alike: rate
    .positive()
    .default(0.5)
    .describe("Runs of whole days that the rates above weigh against a unit's own. A guess, no source"),
  endsUnmended: share
    .default(0.5)
    .describe('Share of the runs that end without a visit behind which there was no leak. A guess'),
  toleranceMinutes: z
    .number()
    .min(0)
    .default(15)
    .describe('So much may be missing from a whole day: what the meter counts at midnight comes late'),
  leastGallonsOverUsual: gallons
    .default(60)
    .describe(
      'Where flow minutes are not sensed, a day must also have drawn so much more than usual: 0.1 gal/min makes 144',
    ),
  leastTimesUsual: z
    .number()
    .min(1)
    .default(3.5)
    .describe(
      'Where neither minutes nor hours are sensed, each day of a week must have drawn so many times the usual',
    ),
  pauseBelow: share
    .default(0.7)
    .describe('A day below this share of that was one with a pause: what ran is over'),
});

export type FlowRules = z.infer<typeof flowRulesSchema>;

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

/** How long water flows without a pause. */
export interface Flow {
  readonly run: FlowRun | null;
  /** Runs that ended without a visit and reached each of RUN_DAYS, older ones fading; and the days seen, likewise. */
  readonly ended: readonly number[];
  readonly days: number;
  /** For a unit that senses neither minutes nor hours of flow. */
  readonly leastUse: LeastUse | null;
}

const RUN_DAYS = [1, 2, 4, 8] as const;
const DAYS_A_YEAR = 365.25;
/** Older runs fade: what is remembered is about two years. */
const MEMORY_DAYS = 2 * DAYS_A_YEAR;
const MS_A_MINUTE = 60_000;

export const flow: Memory<Flow> = {
  start: () => ({ run: null, ended: RUN_DAYS.map(() => 0), days: 0, leastUse: null }),
  observe(kept, fact, seen) {
    if (fact.kind === 'service-visit') {
      return kept.run && !kept.run.visited ? { ...kept, run: { ...kept.run, visited: true } } : kept;
    }
    return fact.kind === 'flow-day' ? observeDay(kept, fact, seen) : kept;
  },
};

/** Minutes of a local day: 1,380, 1,440 or 1,500. */
export function minutesOf({ zone }: Seen['unit'], date: LocalDate): number {
  return (zone.startOf(date + 1) - zone.startOf(date)) / MS_A_MINUTE;
}

function observeDay(kept: Flow, day: FlowDay, seen: Seen): Flow {
  const by = sensedBy(day);
  if (by === 'least-use') return observeLeastUse(kept, day, seen);
  const whole = isWhole(day, by, seen);
  // Nothing to remember of nearly all days: what they were is not written down, only that they were.
  const aged = kept.leastUse === null ? kept : { ...kept, leastUse: null, run: null };
  const { run } = aged;
  if (!whole) return { ...aged, run: null, ...counted(aged, run, seen) };
  return { ...aged, ...counted(aged, null, seen), run: goneOn(aged, run, [day], by, seen) };
}

function sensedBy({ longestFlowMinutes, flowHours }: FlowDay): FlowRun['by'] {
  if (longestFlowMinutes !== undefined) return 'minutes';
  return flowHours !== undefined ? 'hours' : 'least-use';
}

/** Whether water flowed all day. */
function isWhole(day: FlowDay, by: 'minutes' | 'hours', { unit, rules, expectedGallons }: Seen): boolean {
  const { longestFlowMinutes = 0, flowHours = 0 } = day;
  const minutes = minutesOf(unit, day.date);
  if (by === 'minutes') return longestFlowMinutes >= minutes - rules.flow.toleranceMinutes;
  const isHigh = day.gallons - expectedGallons >= rules.flow.leastGallonsOverUsual;
  return isHigh && flowHours >= Math.floor(minutes / 60);
}

function observeLeastUse(kept: Flow, day: FlowDay, seen: Seen): Flow {
  const rules = seen.rules.flow;
  const before = kept.leastUse ?? { recent: [], usual: 0, days: 0 };
  const high = rules.leastTimesUsual * before.usual;
  const run = kept.run && day.gallons >= rules.pauseBelow * high ? kept.run : null;
  const leastUse = tookDay(before, day.gallons, run !== null);
  const least = leastOf(leastUse);
  const aged = { ...kept, run, leastUse };
  if (run) return { ...aged, run: goneOn(kept, run, [day], 'least-use', seen) };
  if (least === null || least < high || least - before.usual < rules.leastGallonsOverUsual) return aged;
  const days = leastUse.recent.map((gallons, index) => ({
    gallons,
    date: day.date - (leastUse.recent.length - 1 - index),
  }));
  return { ...aged, run: goneOn(aged, null, days, 'least-use', seen) };
}

/** A run with more days, or a new one of them. */
function goneOn(
  kept: Flow,
  run: FlowRun | null,
  days: readonly { date: LocalDate; gallons: number }[],
  by: FlowRun['by'],
  { rules, expectedGallons }: Seen,
): FlowRun {
  const uses = days.map((day) => day.gallons);
  const first = days[0]?.date ?? 0;
  const usualGallons = by === 'least-use' ? (kept.leastUse?.usual ?? 0) : expectedGallons;
  const begun = run ?? {
    from: first,
    to: first,
    days: 0,
    gallons: 0,
    leastGallons: Number.MAX_VALUE,
    usualGallons: Math.round(usualGallons * 10) / 10,
    by,
    visited: false,
  };
  const count = begun.days + days.length;
  return {
    ...begun,
    to: days.at(-1)?.date ?? first,
    days: count,
    gallons: begun.gallons + uses.reduce((sum, each) => sum + each, 0),
    leastGallons: Math.min(begun.leastGallons, ...uses),
    leak: leakProbability(kept, begun.by, count, rules.flow),
  };
}

/**
 * A leak lasts; what runs all day for a good reason ends. The posterior after n whole days is the rate of leaks / (that +
 * the rate of good reasons that last n days), the latter by the unit's own record and that of its like.
 */
function leakProbability(kept: Flow, by: FlowRun['by'], count: number, rules: FlowRules): number {
  const { leaksPerUnitYear: leaks, risesPerUnitYear, fillingsPerUnitYear, fullHoursPerUnitYear } = rules;
  if (by === 'least-use') return keptShort(leaks / (leaks + risesPerUnitYear));
  const often = by === 'minutes' ? fillingsPerUnitYear : fullHoursPerUnitYear;
  const step = RUN_DAYS.findLastIndex((length) => length <= count);
  const own = kept.ended[step] ?? 0;
  const alike = often * rules.goesOn ** (count - 1);
  const reasons = (rules.alike + own) / (rules.alike / alike + kept.days / DAYS_A_YEAR);
  return keptShort(leaks / (leaks + reasons));
}

/** A day more, and a run that ended on it, if one did. */
function counted(kept: Flow, run: FlowRun | null, { rules }: Seen): Pick<Flow, 'ended' | 'days'> {
  const fades = kept.days + 1 > MEMORY_DAYS ? MEMORY_DAYS / (kept.days + 1) : 1;
  const days = Math.min(MEMORY_DAYS, kept.days + 1);
  if (!run || run.visited) {
    return { days, ended: fades === 1 ? kept.ended : kept.ended.map((each) => keptShort(each * fades)) };
  }
  const { endsUnmended } = rules.flow;
  return {
    days,
    ended: kept.ended.map((each, step) =>
      keptShort(each * fades + (run.days >= (RUN_DAYS[step] ?? 0) ? endsUnmended : 0)),
    ),
  };
}
