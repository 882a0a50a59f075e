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
  readonly reporting: Reporting;
  readonly meterShare: MeterShare;
  readonly flow: Flow;
  readonly clock: Clock;
  readonly duration: Duration;
  readonly cycles: Cycles;
  readonly saltUse: SaltUse;
  readonly saltBalance: SaltBalance | null;
  readonly visits: Visits;
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

/** Shows a fact to all of them. Returns `kept` itself where the fact tells none of them anything. */
export function observeAll(kept: Memories, fact: Fact, seen: Seen): Memories {
  const next: Memories = {
    reporting: reporting.observe(kept.reporting, fact, seen),
    meterShare: meterShare.observe(kept.meterShare, fact, seen),
    flow: flow.observe(kept.flow, fact, seen),
    clock: clock.observe(kept.clock, fact, seen),
    duration: duration.observe(kept.duration, fact, seen),
    cycles: cycles.observe(kept.cycles, fact, seen),
    saltUse: saltUse.observe(kept.saltUse, fact, seen),
    saltBalance: saltBalance.observe(kept.saltBalance, fact, seen),
    visits: visits.observe(kept.visits, fact, seen),
  };
  return isSame(kept, next) ? kept : next;
}

function isSame(kept: Memories, next: Memories): boolean {
  return (
    next.reporting === kept.reporting &&
    next.meterShare === kept.meterShare &&
    next.flow === kept.flow &&
    next.clock === kept.clock &&
    next.duration === kept.duration &&
    next.cycles === kept.cycles &&
    next.saltUse === kept.saltUse &&
    next.saltBalance === kept.saltBalance &&
    next.visits === kept.visits
  );
}
