import { inWords, type Share } from '../../set/cpuProfile.ts';
import type { Fleet } from '../../set/fleet.ts';
import { pointOf } from '../../set/pointOf.ts';
import { median } from '../../set/spread.ts';
import type { Bound, Found, Measured } from '../comparison.ts';
import { flatBound } from './flatBound.ts';
import { growthBound } from './growth.ts';
import { allOf, EMPTY, oneOf, parseOf, type Uses } from './sides.ts';
import { sizePlot } from './sizePlot.ts';

const MOST_TIMES_PARSING = 4;

interface Given {
  readonly byUnits: readonly Fleet[];
  readonly byDays: readonly Fleet[];
  readonly main: Fleet;
  readonly uses: Uses;
  readonly byWork: readonly Share[];
}

/** What the uses say. */
export function found({ byUnits, byDays, main, uses, byWork }: Given): Found {
  const all = (name: string, what: 'cpuSeconds' | 'wallSeconds' | 'peakMegabytes') =>
    (uses.get(name) ?? []).map((use) => use[what]);
  const start = median(all(EMPTY.replay, 'cpuSeconds'));
  const parserStart = median(all(EMPTY.parse, 'cpuSeconds'));
  const net = (fleet: Fleet) => all(oneOf(fleet), 'cpuSeconds').map((seconds) => seconds - start);
  const netParse = (fleet: Fleet) =>
    all(parseOf(fleet), 'cpuSeconds').map((seconds) => seconds - parserStart);
  const took = (fleet: Fleet) => ({ ...fleet, seconds: median(net(fleet)) });
  const megabytes = (fleet: Fleet) => all(oneOf(fleet), 'peakMegabytes');
  const held = (fleet: Fleet) => ({ name: fleet.name, megabytesHeld: median(megabytes(fleet)) });
  const times = (fleet: Fleet) => median(net(fleet)) / median(netParse(fleet));

  const measured: Measured[] = [
    ...[oneOf(main), allOf(main), parseOf(main), EMPTY.replay, EMPTY.parse].flatMap((what) => [
      { what, unit: 'seconds of CPU, process whole', rounds: all(what, 'cpuSeconds') },
      { what, unit: 'seconds, process whole', rounds: all(what, 'wallSeconds') },
    ]),
    { what: oneOf(main), unit: 'seconds of CPU, net of the start', rounds: net(main) },
    { what: parseOf(main), unit: 'seconds of CPU, net of the start', rounds: netParse(main) },
    ...[...byUnits, ...byDays.slice(1)].map((fleet) => ({
      what: oneOf(fleet),
      unit: 'microseconds of CPU a unit-day, net',
      rounds: net(fleet).map((seconds) => (1e6 * seconds) / fleet.unitDays),
    })),
    ...byDays.map((fleet) => ({ what: oneOf(fleet), unit: 'MB at most', rounds: megabytes(fleet) })),
    ...byWork.map(({ name, share }) => ({
      ...{ what: `share of a replay's time: ${name}`, unit: '% of the profile', rounds: [100 * share] },
    })),
  ];
  const bounds: Bound[] = [
    {
      what: `CPU of a replay in one thread beside parsing alone, net of the start, ${main.name}`,
      asked: `at most ${MOST_TIMES_PARSING} times`,
      measured: `${times(main).toFixed(1)} times`,
      holds: times(main) <= MOST_TIMES_PARSING,
      ...(times(main) > MOST_TIMES_PARSING && {
        because: `by the profile the time of a replay goes to ${inWords(byWork)}.`,
      }),
    },
    growthBound(`Growth of a replay's CPU with units, ${main.days} days`, byUnits.map(took)),
    growthBound(`Growth of a replay's CPU with days, ${byDays[0]?.units} units`, byDays.map(took)),
    flatBound(byDays.map(held)),
  ];
  return {
    measured,
    bounds,
    plots: [
      sizePlot({
        title: 'Time of a replay against units',
        x: `units of ${main.days} days each`,
        fleets: byUnits,
        of: ({ units }) => units,
        logarithmic: true,
        net,
        netParse,
      }),
      sizePlot({
        title: 'Time of a replay against days',
        x: `days of ${byDays[0]?.units} units`,
        fleets: byDays,
        of: ({ days }) => days,
        logarithmic: false,
        net,
        netParse,
      }),
      {
        title: 'Most memory of a replay against days',
        ...{ x: `days of ${byDays[0]?.units} units`, y: 'resident at most (MB)', logarithmic: false },
        lines: [
          {
            name: 'replay, one thread',
            points: byDays.map((fleet) => pointOf(fleet.days, megabytes(fleet))),
          },
        ],
      },
    ],
    notes: [
      'The pass beside the replay reads the file in the same blocks and cuts the same lines, and calls JSON.parse on each; it checks, keeps and writes nothing.',
      'Net of the start means less what the same command takes on a file of no events. The compiling of the code by the runtime is not in that and counts as work.',
      'CPU is that of all threads of the process, those that collect garbage among them.',
      'The fleets are simulated, seed 1, with the faults and the untidiness that the simulator has by default.',
    ],
  };
}
