import type { Fact } from '../../../shared/facts.ts';
import type { Unit } from '../../../shared/registry.ts';
import { type Clock, clock } from './clock.ts';
import { type Cycles, cycles } from './cycles.ts';
import { type Duration, duration } from './duration.ts';
import { type Flow, flow } from './flow.ts';
import type { Seen } from './memory.ts';
import { type MeterShare, meterShare } from './meterShare.ts';
import { type Reporting, reporting } from './reporting.ts';
import { type SaltBalance, saltBalance } from './saltBalance.ts';
import { type SaltUse, saltUse } from './saltUse.ts';
import { type Visits, visits } from './visits.ts';

/** All that is remembered of a unit beside its ledgers. */
export interface Memories {
  reporting: Reporting;
  meterShare: MeterShare;
  flow: Flow;
  clock: Clock;
  duration: Duration;
  cycles: Cycles;
  saltUse: SaltUse;
  saltBalance: SaltBalance | null;
  visits: Visits;
}

/** Of a unit before its first fact. */
export function newMemories(unit: Unit): Memories {
  return {
    reporting: reporting.start(unit),
    meterShare: meterShare.start(unit),
    flow: flow.start(unit),
    clock: clock.start(unit),
    duration: duration.start(unit),
    cycles: cycles.start(unit),
    saltUse: saltUse.start(unit),
    saltBalance: saltBalance.start(unit),
    visits: visits.start(unit),
  };
}

/** A copy that shares nothing that is written to. */
export function copyMemories(kept: Memories): Memories {
  return {
    reporting: reporting.copy(kept.reporting),
    meterShare: meterShare.copy(kept.meterShare),
    flow: kept.flow,
    clock: kept.clock,
    duration: kept.duration,
    cycles: kept.cycles,
    saltUse: saltUse.copy(kept.saltUse),
    saltBalance: kept.saltBalance,
    visits: kept.visits,
  };
}

/** Shows a fact to all of them that it may tell something, and writes what they make of it to `kept`. */
export function observeAll(kept: Memories, fact: Fact, seen: Seen) {
  switch (fact.kind) {
    case 'flow-day':
      kept.reporting = reporting.observe(kept.reporting, fact, seen);
      kept.meterShare = meterShare.observe(kept.meterShare, fact, seen);
      kept.flow = flow.observe(kept.flow, fact, seen);
      kept.cycles = cycles.observe(kept.cycles, fact, seen);
      kept.saltUse = saltUse.observe(kept.saltUse, fact, seen);
      return;
    case 'salt-level':
      kept.reporting = reporting.observe(kept.reporting, fact, seen);
      kept.saltUse = saltUse.observe(kept.saltUse, fact, seen);
      return;
    default:
      kept.reporting = reporting.observe(kept.reporting, fact, seen);
      kept.meterShare = meterShare.observe(kept.meterShare, fact, seen);
      kept.flow = flow.observe(kept.flow, fact, seen);
      kept.clock = clock.observe(kept.clock, fact, seen);
      kept.duration = duration.observe(kept.duration, fact, seen);
      kept.cycles = cycles.observe(kept.cycles, fact, seen);
      kept.saltUse = saltUse.observe(kept.saltUse, fact, seen);
      kept.saltBalance = saltBalance.observe(kept.saltBalance, fact, seen);
      kept.visits = visits.observe(kept.visits, fact, seen);
  }
}
