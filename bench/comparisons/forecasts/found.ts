import type { Cost } from '../../forecasts/rScript.ts';
import { median } from '../../set/spread.ts';
import { figure } from '../../set/words.ts';
import type { Bound, Found, Measured } from '../comparison.ts';

/** What the model of this project is called among the families. */
export const OURS = 'this model';
const TIMES_CHEAPER = 1000;
const UNIT = 'microseconds of CPU a forecast';

/** The readings of R's costs, by what the scripts call them, and the one that the bound is for. */
const READINGS: readonly {
  readonly family: string;
  readonly how: string;
  readonly told: string;
  readonly judged?: string;
}[] = [
  {
    ...{ family: 'ets', how: 'with refitting', judged: 'ets, fit and forecast' },
    told: 'ets, a fit every 14 days shared by the forecasts until the next, led on day by day',
  },
  { family: 'ets', how: 'alone', told: 'ets, led on and forecast, the fit not counted' },
  { family: 'ets', how: 'fitted anew each day', told: 'ets, fitted anew for each forecast' },
  {
    ...{ family: 'forest (days before)', how: 'in batches with refitting' },
    ...{ judged: 'the forest, shared fit and forecast' },
    told: 'forest, a fit every month shared by all home-days it serves, asked for all of them at once',
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

/** What the costs say. */
export function found(
  said: ReadonlyMap<string, readonly (readonly Cost[] | string)[]>,
  homes: number,
): Found {
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

function bound(judged: string, told: string, times: number): Bound {
  const holds = times >= TIMES_CHEAPER;
  return {
    what: `Cost of a forecast of the next day beside ${judged}`,
    asked: `at least ${figure(TIMES_CHEAPER)} times cheaper`,
    measured: `${figure(times)} times`,
    holds,
    ...(!holds && {
      because: `${told}: so many forecasts share one fit and one call, and it works in compiled code. The readings in which they do not share it stand beside.`,
    }),
  };
}
