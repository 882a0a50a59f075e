import { quantile } from '../../lib/score/statistics.ts';
import { byTurns } from '../set/byTurns.ts';
import { type Answer, startFilled, UNIT } from './api/filledService.ts';
import type { Comparison, Found } from './comparison.ts';

const SIZES = {
  small: { units: [100], rounds: 20 },
  whole: { units: [100, 10_000, 100_000], rounds: 200 },
} as const;
const ROUTES = [
  '/v1/attention',
  '/v1/units',
  '/v1/alerts',
  `/v1/units/${UNIT}`,
  `/v1/units/${UNIT}/story`,
  `/v1/units/${UNIT}/events`,
];
/** Of the 99th percentile, from the smallest to the largest company; common sense, no source. */
const MOST_GROWTH = 2;

/** Whether what people look at all day takes longer, or weighs more, in a larger company. */
export const api: Comparison = {
  name: 'api',
  question: 'How long do the lists and the pages of a unit take in companies of different sizes?',
  async run(size, say) {
    const { units, rounds } = SIZES[size];
    const service = await startFilled(units, say);
    try {
      const sides = ROUTES.flatMap((route) =>
        units.map((of) => ({ name: nameOf(route, of), run: () => service.ask(of, route) })),
      );
      say('a round that is not counted: whatever is made once is made in it');
      for (const side of sides) await side.run();
      say(`${rounds} rounds of ${sides.length} questions`);
      return found(units, await byTurns(sides, rounds, () => {}));
    } finally {
      await service.stop();
    }
  },
};

function nameOf(route: string, units: number): string {
  return `GET ${route}, ${units.toLocaleString('en-US')} units`;
}

function found(units: readonly number[], answers: ReadonlyMap<string, readonly Answer[]>): Found {
  const of = (route: string, size: number, what: keyof Answer) =>
    (answers.get(nameOf(route, size)) ?? []).map((each) => each[what]);
  const late = (route: string, size: number) => quantile(of(route, size, 'milliseconds'), 0.99) ?? Number.NaN;
  const [least = 0] = units;
  const most = units.at(-1) ?? least;
  return {
    measured: ROUTES.flatMap((route) =>
      units.flatMap((size) => [
        { what: nameOf(route, size), unit: 'ms', rounds: of(route, size, 'milliseconds') },
        { what: nameOf(route, size), unit: 'bytes', rounds: [Math.max(...of(route, size, 'bytes'))] },
      ]),
    ),
    plots: [
      {
        title: 'Time of an answer, 99th percentile, against the size of the company',
        ...{ x: 'units', y: 'time (ms)', logarithmic: true },
        lines: ROUTES.map((route) => ({
          name: route,
          points: units.map((size) => ({ x: size, y: late(route, size) })),
        })),
      },
    ],
    bounds:
      most === least
        ? []
        : ROUTES.map((route) => {
            const times = late(route, most) / late(route, least);
            return {
              what: `GET ${route}, 99th percentile, ${most.toLocaleString('en-US')} units beside ${least}`,
              asked: `none was set; flat, at most ${MOST_GROWTH} times`,
              measured: `${times.toFixed(2)} times (${late(route, least).toFixed(0)} and ${late(route, most).toFixed(0)} ms)`,
              holds: times <= MOST_GROWTH,
            };
          }),
    notes: [
      'Companies of all sizes are in one table, and take turns: one question at a time, over HTTP, as the console asks it. Lists are read a page of 100 at a time; what works through a whole company, such as its accounts, is not among these.',
      'Client, service and table are on one machine, the table an emulator in another thread.',
    ],
  };
}
