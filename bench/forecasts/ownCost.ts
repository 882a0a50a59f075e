import type { Family } from '../../lib/demand/backtest/family.ts';
import { newHousehold, observe } from '../../lib/demand/household.ts';
import { exhaustionDays, overrunProbability, regenerationDays } from '../../lib/demand/passage.ts';
import { nextDayUse } from '../../lib/demand/predictive.ts';
import type { Home } from '../../tests/support/homes.ts';
import { PROBABILITIES } from './roll.ts';

/** A piece of work, done once for each of so many days. */
export interface Work {
  readonly name: string;
  readonly days: number;
  run(): void;
}

/** Takes in each day of the homes and forecasts after it. */
export function living(family: Family, homes: readonly Home[], span: number): Work {
  return {
    name: `${family.name} ${span}`,
    days: homes.reduce((sum, home) => sum + home.length, 0),
    run: () => {
      for (const home of homes) {
        const forecaster = family.begin();
        for (const { date, gallons } of home) {
          forecaster.observe(date, gallons);
          forecaster.quantiles(span, PROBABILITIES);
        }
      }
    },
  };
}

/**
 * Takes in each day of the homes and tells the next, as the product does: the backtest's family works out any quantiles,
 * the product three.
 */
export function livingInProduct(name: string, homes: readonly Home[]): Work {
  return {
    name: `${name} 1`,
    days: homes.reduce((sum, home) => sum + home.length, 0),
    run: () => {
      for (const home of homes) {
        let household = newHousehold();
        for (const { date, gallons } of home) {
          household = observe(household, date, gallons);
          nextDayUse(household, date);
        }
      }
    },
  };
}

/** The pieces of what replay works out for a day. */
export function pieces(homes: readonly Home[]): Work[] {
  const days = homes.flatMap((home) => {
    let household = newHousehold();
    return home.map(({ date, gallons }, index) => {
      household = observe(household, date, gallons);
      // A bed of about five days, used up to somewhere.
      const left = household.level * (0.5 + ((index * 7) % 45) / 10);
      const bed = {
        believedGallons: left,
        remainingGallons: left * 1.03,
        lastSevenDays: home.slice(Math.max(0, index - 6), index + 1).map((day) => day.gallons),
        shareBeforeHour: 0.042,
        reserve: true,
      };
      return { household, date, gallons, left, bed };
    });
  });
  const each = (name: string, work: (day: (typeof days)[number]) => unknown): Work => ({
    ...{ name, days: days.length },
    run: () => {
      for (const day of days) work(day);
    },
  });
  return [
    each('observe', ({ household, date, gallons }) => observe(household, date, gallons)),
    each('next day', ({ household, date }) => nextDayUse(household, date)),
    each('exhaustion', ({ household, date, left }) => exhaustionDays(household, date, left)),
    each('next regeneration', ({ household, date, bed }) => regenerationDays(household, date, bed)),
    each('overrun', ({ household, date, bed }) => overrunProbability(household, date, bed)),
  ];
}

/** Microseconds of CPU a day; rounds of all kinds of work take turns, and the least of each counts. */
export function leastCosts(works: readonly Work[], rounds: number): Map<string, number> {
  const least = new Map<string, number>();
  for (let round = 0; round < rounds; round++) {
    for (const { name, days, run } of works) {
      const before = process.cpuUsage();
      run();
      const { user, system } = process.cpuUsage(before);
      least.set(name, Math.min(least.get(name) ?? Number.POSITIVE_INFINITY, (user + system) / days));
    }
  }
  return least;
}
