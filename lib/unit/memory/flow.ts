import type { FlowDay } from '../../../shared/facts.ts';
import type { LocalDate } from '../../../shared/time/localDate.ts';
import type { Zone } from '../../../shared/time/zone.ts';
import { counted, type FlowRun, goneOn, type RunRecord, UNSEEN } from './flowRun.ts';
import { type LeastUse, leastOf, NO_USE, tookDay } from './leastUse.ts';
import type { Memory, Seen } from './memory.ts';

/** How long water flows without a pause. */
export interface Flow {
  readonly run: FlowRun | null;
  readonly record: RunRecord;
  /** For a unit that senses neither minutes nor hours of flow. */
  readonly leastUse: LeastUse | null;
}

const MS_A_MINUTE = 60_000;
/** Clocks skip an hour, and have skipped two in wartime; no local day with flow in it was shorter than this. From memory. */
const SHORTEST_DAY_MINUTES = 20 * 60;

export const flow: Memory<Flow> = {
  start: () => ({ run: null, record: UNSEEN, leastUse: null }),
  observe(kept, fact, seen) {
    if (fact.kind === 'service-visit') {
      return kept.run && !kept.run.visited ? { ...kept, run: { ...kept.run, visited: true } } : kept;
    }
    return fact.kind === 'flow-day' ? observeDay(kept, fact, seen) : kept;
  },
};

function observeDay(kept: Flow, day: FlowDay, seen: Seen): Flow {
  const by = sensedBy(day);
  // A day that does not say, of a unit that otherwise does, tells nothing.
  if (by === 'least-use') return kept.record.days > 0 ? kept : observeLeastUse(kept, day, seen);
  const rules = seen.rules.flow;
  const { record } = kept;
  const run = kept.leastUse === null ? kept.run : null;
  if (!isWhole(day, by, run, seen)) {
    const next = counted(record, run, rules);
    const isSame = next === record && kept.run === null && kept.leastUse === null;
    return isSame ? kept : { run: null, record: next, leastUse: null };
  }
  const begun = run ?? { by, usualGallons: seen.expectedGallons };
  return { run: goneOn(begun, [day], record, rules), record: counted(record, null, rules), leastUse: null };
}

function sensedBy({ longestFlowMinutes, flowHours }: FlowDay): FlowRun['by'] {
  if (longestFlowMinutes !== undefined) return 'minutes';
  return flowHours !== undefined ? 'hours' : 'least-use';
}

/** Whether water flowed all day. Asks the zone last: most days are told without. */
function isWhole(
  { date, gallons, longestFlowMinutes = 0, flowHours = 0 }: FlowDay,
  by: 'minutes' | 'hours',
  run: FlowRun | null,
  { unit: { zone }, rules, expectedGallons }: Seen,
): boolean {
  if (by === 'minutes') {
    const { toleranceMinutes } = rules.flow;
    if (longestFlowMinutes < SHORTEST_DAY_MINUTES - toleranceMinutes) return false;
    return longestFlowMinutes >= minutesOf(date, zone) - toleranceMinutes;
  }
  const overUsual = gallons - (run?.usualGallons ?? expectedGallons);
  if (overUsual < rules.flow.leastGallonsOverUsual) return false;
  return flowHours >= Math.floor(minutesOf(date, zone) / 60);
}

function minutesOf(date: LocalDate, zone: Zone): number {
  return (zone.startOf(date + 1) - zone.startOf(date)) / MS_A_MINUTE;
}

function observeLeastUse(kept: Flow, day: FlowDay, seen: Seen): Flow {
  const rules = seen.rules.flow;
  const { record } = kept;
  const { usual } = kept.leastUse ?? NO_USE;
  const high = rules.leastTimesUsual * usual;
  const run = kept.run && day.gallons >= rules.pauseBelow * high ? kept.run : null;
  const leastUse = tookDay(kept.leastUse ?? NO_USE, day.gallons, run !== null);
  if (run) return { run: goneOn(run, [day], record, rules), record, leastUse };
  const least = leastOf(leastUse);
  const isHigh = least !== null && least >= high && least - usual >= rules.leastGallonsOverUsual;
  if (!isHigh) return { run: null, record, leastUse };
  const { recent } = leastUse;
  const first: LocalDate = day.date - recent.length + 1;
  const days = recent.map((gallons, index) => ({ gallons, date: first + index }));
  const begun = { by: 'least-use', usualGallons: usual } as const;
  return { run: goneOn(begun, days, record, rules), record, leastUse };
}
