import { parseFaultMix } from '../../lib/simulation/faultMix.ts';
import { planFleet, type UnitPlan } from '../../lib/simulation/plan.ts';
import { UnitLife } from '../../lib/simulation/unitLife.ts';
import { recordOf } from '../../lib/simulation/wire.ts';
import { UnitHistory } from '../../lib/unit/history.ts';
import type { UnitState } from '../../lib/unit/state.ts';
import type { Rules } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import type { Unit } from '../../shared/registry.ts';
import { type LocalDate, parseLocalDate } from '../../shared/time/localDate.ts';
import { toUnit } from '../../shared/toUnit.ts';

/** A simulated unit whose tank nobody refills from some day on. */
export interface EmptyingTank {
  readonly unit: Unit;
  readonly start: LocalDate;
  /** The day on which a regeneration first lacks salt; null if none does. */
  readonly ranOutOn: LocalDate | null;
  /** What is in the tank at the end of each day, lb, and what has been put in so far. */
  readonly lb: readonly number[];
  readonly addedLb: readonly number[];
  /** Goes through its days: at each noon, its state by all that has arrived. */
  noons(): Generator<{ readonly date: LocalDate; readonly at: number; readonly state: UnitState }>;
}

/** Simulates a fleet of whose tanks each runs out some day. */
export function emptyingTanks(
  { units, days, seed }: { units: number; days: number; seed: number },
  rules: Rules,
): EmptyingTank[] {
  const start = parseLocalDate('2025-01-01') ?? 0;
  return planFleet({ units, days, start, seed, faults: parseFaultMix('tank-empty=1') }).map((plan) =>
    emptying(plan, rules),
  );
}

function emptying(plan: UnitPlan, rules: Rules): EmptyingTank {
  const life = new UnitLife(plan);
  const lb: number[] = [];
  const addedLb: number[] = [];
  const sent = Array.from({ length: plan.days }, () => {
    const events = life.nextDay();
    lb.push(life.softener.tank.lb);
    addedLb.push(life.softener.tank.addedLb);
    return events;
  }).flat();
  const unit = toUnit(recordOf(plan.profile));
  const short = life
    .truth()
    .filter(({ what }) => what === 'regeneration-without-salt')
    .map(({ from }) => parseLocalDate(from) ?? 0);
  return {
    unit,
    start: plan.start,
    ranOutOn: short.length === 0 ? null : Math.min(...short),
    lb,
    addedLb,
    *noons() {
      const history = new UnitHistory(unit, rules.fold);
      const registry = new Map([[unit.unitId, unit]]);
      const arriving = [...sent].sort((a, b) => a.recorded - b.recorded);
      let next = 0;
      for (let day = 0; day < plan.days; day++) {
        const date = plan.start + day;
        const at = unit.zone.startOf(date) + 12 * 3_600_000;
        for (; (arriving[next]?.recorded ?? Number.POSITIVE_INFINITY) <= at; next++) {
          const admission = admit(JSON.stringify(arriving[next]?.event), registry);
          if (admission.accepted) history.learn(admission.fact);
        }
        yield { date, at, state: history.state };
      }
    },
  };
}
