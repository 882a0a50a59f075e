import type { WireEvent } from '../../shared/events.ts';
import type { UnitRecord } from '../../shared/registry.ts';
import { Chance, STREAM } from './chance.ts';
import type { UnitPlan } from './plan.ts';
import type { Truth } from './truth.ts';
import { UnitLife } from './unitLife.ts';
import { type Line, Untidiness, type UntidyCounts } from './untidiness.ts';
import { recordOf } from './wire.ts';

const DAY_MS = 86_400_000;

/** One unit, simulated whole. */
export interface SimulatedUnit {
  readonly record: UnitRecord;
  /** Its events by when they happened, each sent once and in good time. */
  readonly events: readonly WireEvent[];
  readonly truth: readonly Truth[];
  /** The salt that truly went through its tank, lb. */
  readonly salt: {
    readonly startLb: number;
    readonly addedLb: number;
    readonly drawnLb: number;
    readonly endLb: number;
    /** What was drawn on each day, from the first of the simulation. */
    readonly drawnLbByDay: readonly number[];
  };
}

/** Simulates one unit in memory. */
export function simulateUnit(plan: UnitPlan): SimulatedUnit {
  const life = new UnitLife(plan);
  const events = Array.from({ length: plan.days }, () => life.nextDay()).flat();
  const { tank } = life.softener;
  return {
    record: recordOf(plan.profile),
    events: events.map(({ event }) => event),
    truth: life.truth(),
    salt: {
      startLb: plan.profile.saltAtStartLb,
      addedLb: tank.addedLb,
      drawnLb: tank.drawnLb,
      endLb: tank.lb,
      drawnLbByDay: life.drawnLb,
    },
  };
}

/** What a fleet's stream leaves behind when it has been read to its end. */
export interface FleetOutcome {
  readonly truth: Truth[];
  readonly lines: number;
  readonly untidy: UntidyCounts;
}

/**
 * Simulates a fleet day by day; yields the lines of its events in the order in which the service receives them, a day's
 * worth at a time. Holds only the days on which late events are still under way.
 *
 * @param untidy share of the events that arrive twice, late, corrected, not at all, or beside a line that is none
 */
export function* simulateFleet(
  plans: readonly UnitPlan[],
  { seed, untidy }: { seed: number; untidy: number },
): Generator<string[], FleetOutcome> {
  const lives = plans.map((plan) => new UnitLife(plan));
  const untidiness = new Untidiness(untidy, new Chance(seed, STREAM.untidiness));
  const days = Math.max(0, ...plans.map((plan) => plan.days));
  const start = Math.min(...plans.map((plan) => plan.start));
  let underway: Line[] = [];
  let lines = 0;
  for (let day = 0; day < days; day++) {
    for (const life of lives) underway.push(...life.nextDay().flatMap((sent) => untidiness.lines(sent)));
    // Sorting is stable: what is received in the same instant stays in the order of units and of sending.
    underway.sort((a, b) => a.recorded - b.recorded);
    // Nothing of a later local day can be received before that day begins in the easternmost zone.
    const safe = (start + day + 1) * DAY_MS - 14 * 3_600_000;
    const end = day === days - 1 ? underway.length : underway.findIndex(({ recorded }) => recorded >= safe);
    const due = underway.slice(0, end === -1 ? underway.length : end);
    underway = underway.slice(due.length);
    lines += due.length;
    yield due.map(({ text }) => text);
  }
  return { truth: lives.flatMap((life) => life.truth()), lines, untidy: untidiness.counts };
}
