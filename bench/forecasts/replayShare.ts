import { newHousehold, observe } from '../../lib/demand/household.ts';
import { byKnown, follow } from '../../lib/live/follow.ts';
import { newHead } from '../../lib/live/head.ts';
import { planFleet } from '../../lib/simulation/plan.ts';
import { simulateUnit } from '../../lib/simulation/simulate.ts';
import { outlook } from '../../lib/unit/outlook.ts';
import { rulesSchema } from '../../lib/watch/rules.ts';
import { admit } from '../../shared/admission.ts';
import type { Fact } from '../../shared/facts.ts';
import { readRegistry } from '../../shared/registry.ts';
import { parseLocalDate } from '../../shared/time/localDate.ts';
import { leastCosts, type Work } from './ownCost.ts';

const UNITS = 12;
const DAYS = 365;
const ROUNDS = 5;

/** Microseconds of CPU a flow day: all of it, its forecasts, and taking the day into the household. */
export interface ReplayShare {
  readonly whole: number;
  readonly outlook: number;
  readonly observe: number;
}

/**
 * Replays an invented fleet in memory with its forecasts and without: admission of each line, fold, watch and forecast.
 * Files are neither read nor written.
 */
export function replayShare(): ReplayShare {
  const rules = rulesSchema.parse({});
  const start = parseLocalDate('2025-01-01') ?? 0;
  const fleet = planFleet({ units: UNITS, days: DAYS, start, seed: 5, faults: {} }).map((plan) => {
    const { record, events } = simulateUnit(plan);
    return {
      units: readRegistry(JSON.stringify([record])).units,
      lines: events.map((e) => JSON.stringify(e)),
    };
  });
  const factsOf = ({ units, lines }: (typeof fleet)[number]) =>
    lines.flatMap((line): Fact[] => {
      const admission = admit(line, units);
      return admission.accepted ? [admission.fact] : [];
    });
  const flowDays = fleet.map((each) => factsOf(each).filter((fact) => fact.kind === 'flow-day'));
  const days = flowDays.flat().length;
  const followed = (forecasts: boolean) => () => {
    for (const each of fleet) {
      for (const unit of each.units.values()) {
        follow(unit, newHead(unit, rules.fold), factsOf(each).sort(byKnown), {
          rules,
          onDay: forecasts ? (state, date) => outlook(unit, state, date) : undefined,
        });
      }
    }
  };
  const works: Work[] = [
    { name: 'whole', days, run: followed(true) },
    { name: 'bare', days, run: followed(false) },
    {
      ...{ name: 'observe', days },
      run: () => {
        for (const ofUnit of flowDays) {
          let household = newHousehold();
          for (const { date, gallons } of ofUnit) household = observe(household, date, gallons);
        }
      },
    },
  ];
  const costs = leastCosts(works, ROUNDS);
  const whole = costs.get('whole') ?? Number.NaN;
  return {
    whole,
    outlook: whole - (costs.get('bare') ?? Number.NaN),
    observe: costs.get('observe') ?? Number.NaN,
  };
}
