import { availableParallelism } from 'node:os';
import { buildScript } from '../set/buildScript.ts';
import { byTurns, type Side } from '../set/byTurns.ts';
import { inWords } from '../set/cpuProfile.ts';
import { emptyFleet, type Fleet, fleetOf } from '../set/fleet.ts';
import { measuredProcess, type Use } from '../set/measuredProcess.ts';
import type { Comparison } from './comparison.ts';
import { found } from './replay/found.ts';
import { profileOf } from './replay/profile.ts';
import { replayed } from './replay/replayed.ts';
import { allOf, EMPTY, oneOf, parseOf, type Uses } from './replay/sides.ts';

const SIZES = {
  small: { units: [5, 10, 20], ofDays: 60, days: [60, 120], ofUnits: 10, main: 20, rounds: 2 },
  whole: {
    ...{ units: [10, 100, 1000, 10_000], ofDays: 365, days: [365, 1095, 3650], ofUnits: 100 },
    ...{ main: 1000, rounds: 3 },
  },
} as const;
/** A fleet of more unit-days is replayed once: it takes minutes, which even out what else the machine does. */
const ONCE_ABOVE = 1_000_000;
const PARSER = 'bench/comparisons/replay/parseLinesProcess.ts';

/** How far a replay is from the least that any reader of the same file does, and how it grows. */
export const replay: Comparison = {
  name: 'replay',
  question: 'How far is a replay from a pass over the same file that only parses each line?',
  async run(size, say) {
    const { units, ofDays, days, ofUnits, main, rounds } = SIZES[size];
    const byUnits = units.map((each) => fleetOf(each, ofDays, say));
    const byDays = days.map((each) => fleetOf(ofUnits, each, say));
    const fleets = [...new Map([...byUnits, ...byDays].map((fleet) => [fleet.name, fleet])).values()];
    const uses = await measure(fleets, main, rounds, say);
    say('profile');
    const { byWork, byFile } = await profileOf(fleetOf(main, ofDays, say));
    say(`by file: ${inWords(byFile)}`);
    return found({ byUnits, byDays, main: fleetOf(main, ofDays, say), uses, byWork });
  },
};

async function measure(
  fleets: readonly Fleet[],
  main: number,
  rounds: number,
  say: (line: string) => void,
): Promise<Uses> {
  const parser = buildScript(PARSER);
  const nothing = emptyFleet();
  const sidesOf = (fleet: Fleet): Side<Use>[] => [
    { name: oneOf(fleet), run: () => replayed(fleet, 1) },
    { name: parseOf(fleet), run: () => measuredProcess(parser, fleet.events) },
  ];
  const often = fleets.filter(({ unitDays }) => unitDays <= ONCE_ABOVE);
  const once = fleets.filter(({ unitDays }) => unitDays > ONCE_ABOVE);
  const inThreads = often.filter(({ units }) => units === main);
  return new Map([
    ...(await byTurns(
      [
        { name: EMPTY.replay, run: () => replayed(nothing, 1) },
        { name: EMPTY.parse, run: () => measuredProcess(parser, nothing.events) },
        ...often.flatMap(sidesOf),
        ...inThreads.map((fleet) => ({
          name: allOf(fleet),
          run: () => replayed(fleet, availableParallelism()),
        })),
      ],
      rounds,
      say,
    )),
    ...(await byTurns(once.flatMap(sidesOf), 1, say)),
  ]);
}
