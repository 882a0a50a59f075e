import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Home, realHomes } from '../../tests/support/homes.ts';
import { leastCosts, livingInProduct } from '../forecasts/ownCost.ts';
import { pointsCsv, WARM_UP_DAYS } from '../forecasts/points.ts';
import { type Cost, runR } from '../forecasts/rScript.ts';
import { byTurns } from '../set/byTurns.ts';
import { median } from '../set/spread.ts';
import { figure } from '../set/words.ts';
import type { Bound, Comparison, Found, Measured } from './comparison.ts';

const SIZES = {
  small: { homes: 4, rounds: 1, etsHomes: 1 },
  whole: { homes: 23, rounds: 3, etsHomes: 2 },
} as const;
const OUT = 'out/bench/forecasts';
const TIMES_CHEAPER = 1000;
/** Home-days before which the runtime may not have compiled the code; and passes over all homes that are measured. */
const WARM_UP_HOME_DAYS = 100_000;
const PASSES = 7;
const OURS = 'this model';

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

/** The readings of R's costs, by what the scripts call them, and the one that the bound is for. */
const READINGS: readonly {
  readonly family: string;
  readonly how: string;
  readonly told: string;
  readonly judged?: string;
}[] = [
  {
    ...{
      family: 'ets',
      how: 'with refitting',
      told: 'ets, a fit every 14 days shared by their forecasts, led on day by day',
    },
    judged: 'ets, fit and forecast',
  },
  { family: 'ets', how: 'alone', told: 'ets, led on and forecast, the fit not counted' },
  { family: 'ets', how: 'fitted anew each day', told: 'ets, fitted anew for each forecast' },
  {
    family: 'forest (days before)',
    how: 'in batches with refitting',
    told: 'forest, a fit every month shared by all home-days it serves, asked for all of them at once',
    judged: 'the forest, shared fit and forecast',
  },
  {
    family: 'forest (days before)',
    how: 'one a call',
    told: 'forest, asked for one home-day a call, the fit not counted',
  },
  {
    family: 'forest (days before)',
    how: 'in batches',
    told: 'forest, asked for all home-days at once, the fit not counted',
  },
];

function found(said: ReadonlyMap<string, readonly (readonly Cost[] | string)[]>, homes: number): Found {
  const all = [...said.values()].flat();
  const costs = all.filter((each) => typeof each !== 'string').flat();
  const missing = all.filter((each) => typeof each === 'string');
  const rounds = (family: string, how?: string) =>
    costs
      .filter((cost) => cost.family === family && (how ?? cost.how) === cost.how)
      .map(({ microseconds }) => microseconds);
  const ours = rounds(OURS);
  const there = READINGS.filter(({ family, how }) => rounds(family, how).length > 0);
  const times = (family: string, how: string) => median(rounds(family, how)) / median(ours);
  const measured: Measured[] = [
    { what: `${OURS}, the day taken in and the next forecast`, unit: UNIT, rounds: ours },
    ...there.map(({ family, how, told }) => ({ what: told, unit: UNIT, rounds: rounds(family, how) })),
  ];
  const bounds = there.flatMap(({ family, how, told, judged }): Bound[] =>
    judged === undefined ? [] : [bound(judged, told, times(family, how))],
  );
  return {
    measured,
    plots: [],
    bounds,
    notes: [
      'All learning is counted on both sides, as that is what a forecast costs who makes one each day: this model takes the day in, ets is fitted every 14 days and led on in between, the forest is grown each month from the days before it.',
      ...there
        .filter(({ judged }) => judged === undefined)
        .map(
          ({ family, how, told }) =>
            `By another reading, ${told}: ${figure(times(family, how))} times the cost.`,
        ),
      `${homes} of the real homes in the fixtures, three quantiles of the next day, each process in one thread; ets in each round on others of them. Fewer homes make the forest cheaper, for its trees are less deep. Its features are not counted, nor are the start of R and the passes in which the runtime compiles this model's code.`,
      ...new Set(missing.map((each) => `Left out: ${each}`)),
    ],
  };
}

const UNIT = 'microseconds of CPU a forecast';

function bound(judged: string, told: string, times: number): Bound {
  const holds = times >= TIMES_CHEAPER;
  return {
    what: `Cost of a forecast of the next day beside ${judged}`,
    asked: `at least ${figure(TIMES_CHEAPER)} times cheaper`,
    measured: `${figure(times)} times`,
    holds,
    ...(!holds && {
      because: `judged is ${told}; what the fit takes is shared by many forecasts, and R works in compiled code.`,
    }),
  };
}
