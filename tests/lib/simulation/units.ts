import fc from 'fast-check';
import type { Confounders } from '../../../lib/simulation/confounders.ts';
import { type FaultMix, parseFaultMix } from '../../../lib/simulation/faultMix.ts';
import { planFleet, type UnitPlan } from '../../../lib/simulation/plan.ts';
import { simulateUnit } from '../../../lib/simulation/simulate.ts';
import type { Fact } from '../../../shared/facts.ts';
import { parseLocalDate } from '../../../shared/time/localDate.ts';
import { toFact } from '../../../shared/toFact.ts';

const START = parseLocalDate('2025-01-01') ?? 0;

/** How many units a check is made of. */
export const UNITS_CHECKED = 40;

const seeds = fc.integer({ min: 0, max: 0xffff_ffff });

/** Nothing happens that may look like a fault, but in the household. */
export const NOTHING_HARMLESS: Confounders = {
  told: [],
  sticks: undefined,
  cleanedOn: undefined,
  byHand: new Set(),
  calendarDays: undefined,
  batchDays: 1,
  moved: undefined,
};

/** One unit for a year, with whatever is changed of its profile. */
function unitOf(seed: number, change: Partial<UnitPlan['profile']> = {}, faults: FaultMix = {}): UnitPlan {
  const [plan] = planFleet({ units: 1, days: 365, start: START, seed, faults });
  if (!plan) throw new Error('a fleet of one unit has one plan');
  return { ...plan, confounders: NOTHING_HARMLESS, profile: { ...plan.profile, ...change } };
}

/** Checks something of many units. A counterexample is the number that one grows from. */
export function forUnits(
  { change = {}, faults = {} }: { change?: Partial<UnitPlan['profile']>; faults?: FaultMix },
  check: (plan: UnitPlan) => void,
): void {
  fc.assert(
    fc.property(seeds, (seed) => check(unitOf(seed, change, faults))),
    { numRuns: UNITS_CHECKED },
  );
}

/** Lives a unit's days and reads what it sent as the service would. */
export function live(plan: UnitPlan) {
  const unit = simulateUnit(plan);
  const facts = unit.events.map((event) => toFact(event, plan.profile.zone));
  const of = <Kind extends Fact['kind']>(kind: Kind) =>
    facts.filter((fact): fact is Extract<Fact, { kind: Kind }> => fact.kind === kind);
  return {
    ...unit,
    flowDays: of('flow-day'),
    regenerations: of('regeneration').map((fact) => ({ ...fact, date: plan.profile.zone.dateAt(fact.time) })),
    settings: of('settings'),
    visits: of('service-visit'),
  };
}

/** A mix in which every unit has the one fault. */
export function only(name: string): FaultMix {
  return parseFaultMix(`${name}=1`);
}
