import fc from 'fast-check';
import { type Confounders, NO_CONFOUNDERS } from '../../../lib/simulation/confounders.ts';
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

/** What is set about a unit; everything else is as its seed has it, but that nothing happens which looks like a fault. */
interface Given {
  readonly change?: Partial<UnitPlan['profile']>;
  readonly faults?: FaultMix;
  readonly confounders?: Partial<Confounders>;
}

/** One unit for a year. */
function unitOf(seed: number, { change = {}, faults = {}, confounders = {} }: Given): UnitPlan {
  const [plan] = planFleet({ units: 1, days: 365, start: START, seed, faults });
  if (!plan) throw new Error('a fleet of one unit has one plan');
  return {
    ...plan,
    confounders: { ...NO_CONFOUNDERS, ...confounders },
    profile: { ...plan.profile, ...change },
  };
}

/** Checks something of many units. A counterexample is the number that one grows from. */
export function forUnits(given: Given, check: (plan: UnitPlan) => void, units = UNITS_CHECKED): void {
  fc.assert(
    fc.property(seeds, (seed) => check(unitOf(seed, given))),
    { numRuns: units },
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
    levels: of('salt-level'),
    powerFailures: of('power'),
    facts,
  };
}

/** A mix in which every unit has the one fault. */
export function only(name: string): FaultMix {
  return parseFaultMix(`${name}=1`);
}
