import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Home, realHomes } from '../../tests/support/homes.ts';
import { leastCosts, livingInProduct } from '../forecasts/ownCost.ts';
import { pointsCsv, WARM_UP_DAYS } from '../forecasts/points.ts';
import { type Cost, runR } from '../forecasts/rScript.ts';
import { byTurns } from '../set/byTurns.ts';
import { median } from '../set/spread.ts';
import type { Comparison } from './comparison.ts';
import { found, OURS } from './forecasts/found.ts';

const SIZES = {
  small: { homes: 4, rounds: 1, etsHomes: 1 },
  whole: { homes: 23, rounds: 3, etsHomes: 2 },
} as const;
const OUT = 'out/bench/forecasts';
/** Home-days before which the runtime may not have compiled the code; and passes over all homes that are measured. */
const WARM_UP_HOME_DAYS = 100_000;
const PASSES = 7;

/** What a forecast costs here and in R: exponential smoothing, and a quantile regression forest. */
export const forecasts: Comparison = {
  name: 'forecasts',
  question:
    "What does a forecast of a home's next day cost, beside R's ets and a pooled quantile regression forest?",
  async run(size, say) {
    const { homes: wanted, rounds, etsHomes } = SIZES[size];
    const homes = spreadOver(realHomes(WARM_UP_DAYS + 30), wanted);
    mkdirSync(OUT, { recursive: true });
    const all = written('all', homes);
    let turn = 0;
    const said = await byTurns<readonly Cost[] | string>(
      [
        { name: OURS, run: () => [ownCost(homes)] },
        {
          name: 'ets',
          // Each home has its own model, so that every round may have other homes, and all of them take part.
          run: async () => {
            const some = Array.from({ length: etsHomes }, () => homes[turn++ % homes.length] ?? []);
            return costsOf(await runR('ets', written('some', some), OUT));
          },
        },
        { name: 'forest', run: async () => costsOf(await runR('forest', all, OUT, 'next-day')) },
      ],
      rounds,
      say,
    );
    return found(said, homes.length);
  },
};

/** So many homes, evenly from all of them. */
function spreadOver(homes: readonly Home[], wanted: number): Home[] {
  const step = Math.max(1, homes.length / wanted);
  return homes
    .filter((_, index) => Math.floor(index / step) !== Math.floor((index - 1) / step))
    .slice(0, wanted);
}

function written(name: string, homes: readonly Home[]): string {
  const path = join(OUT, `${name}.csv`);
  writeFileSync(path, pointsCsv(homes));
  return path;
}

/** A day taken in and the next forecast: all the learning that there is. */
function ownCost(homes: readonly Home[]): Cost {
  const work = livingInProduct(OURS, homes);
  for (let days = 0; days < WARM_UP_HOME_DAYS; days += work.days) work.run();
  const passes = Array.from({ length: PASSES }, () => leastCosts([work], 1).get(work.name) ?? Number.NaN);
  return {
    family: OURS,
    days: 1,
    how: 'the day taken in and the next forecast',
    microseconds: median(passes),
  };
}

function costsOf(fromR: Awaited<ReturnType<typeof runR>>): readonly Cost[] | string {
  return typeof fromR === 'string' ? fromR : fromR.costs.filter(({ days }) => days === 1);
}
