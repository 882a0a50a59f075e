import { availableParallelism } from 'node:os';
import { buildScript } from '../set/buildScript.ts';
import { byTurns, type Side } from '../set/byTurns.ts';
import { inWords, type Share } from '../set/cpuProfile.ts';
import { emptyFleet, type Fleet, fleetOf } from '../set/fleet.ts';
import { measuredProcess, type Use } from '../set/measuredProcess.ts';
import { pointOf } from '../set/pointOf.ts';
import { median } from '../set/spread.ts';
import type { Bound, Comparison, Found } from './comparison.ts';
import { profileOf } from './replay/profile.ts';
import { replayed } from './replay/replayed.ts';

const SIZES = {
  small: { units: 20, days: 60, rounds: 2 },
  whole: { units: 1000, days: 365, rounds: 3 },
} as const;
const SCRIPT = 'bench/comparisons/engine/fleetSqlProcess.ts';
const OUT = 'out/bench/sql';
/** What of a replay's work the script in SQL has no part in. */
const BEYOND_SQL = ['forecasts', 'watch'];

/** How a replay stands beside a data engine, which does the part of its work that SQL can do. */
export const engine: Comparison = {
  name: 'engine',
  question: 'How does a replay stand beside DuckDB, which works out in SQL the part of it that SQL can?',
  async run(size, say) {
    const { units, days, rounds } = SIZES[size];
    const fleet = fleetOf(units, days, say);
    const script = buildScript(SCRIPT);
    const nothing = emptyFleet();
    const bySql = ({ events, registry }: Pick<Fleet, 'events' | 'registry'>, threads: number) =>
      measuredProcess(script, events, registry, OUT, String(threads));
    const all = availableParallelism();
    const sides: Side<Use>[] = [
      { name: REPLAY.one, run: () => replayed(fleet, 1) },
      { name: SQL.one, run: () => bySql(fleet, 1) },
      { name: REPLAY.all, run: () => replayed(fleet, all) },
      { name: SQL.all, run: () => bySql(fleet, all) },
      { name: REPLAY.nothing, run: () => replayed(nothing, all) },
      { name: SQL.nothing, run: () => bySql(nothing, all) },
    ];
    const uses = await byTurns(sides, rounds, say);
    say('profile');
    const { byWork } = await profileOf(fleet);
    return found(fleet, uses, byWork);
  },
};

const REPLAY = sidesOf('brinebell replay');
const SQL = sidesOf('DuckDB');

function sidesOf(name: string) {
  return {
    one: `${name}, one thread`,
    all: `${name}, ${availableParallelism()} threads`,
    nothing: `${name}, no events`,
  };
}

function found(fleet: Fleet, uses: ReadonlyMap<string, readonly Use[]>, byWork: readonly Share[]): Found {
  const wall = (name: string) => (uses.get(name) ?? []).map(({ wallSeconds }) => wallSeconds);
  const cpu = (name: string) => (uses.get(name) ?? []).map(({ cpuSeconds }) => cpuSeconds);
  const times = (a: string, b: string) => median(wall(a)) / median(wall(b));
  const net = (name: string, nothing: string) => median(wall(name)) - median(wall(nothing));
  const ours = net(REPLAY.all, REPLAY.nothing);
  const theirs = net(SQL.all, SQL.nothing);
  return {
    measured: [...Object.values(REPLAY), ...Object.values(SQL)].flatMap((what) => [
      { what, unit: 'seconds', rounds: wall(what) },
      { what, unit: 'seconds of CPU', rounds: cpu(what) },
    ]),
    plots: [
      {
        title: `Time against threads, ${fleet.name}`,
        ...{ x: 'threads', y: 'process whole (s)', logarithmic: false },
        lines: [
          { name: 'brinebell replay', points: byThreads(REPLAY, wall) },
          { name: 'DuckDB', points: byThreads(SQL, wall) },
        ],
      },
    ],
    bounds: [bound(fleet, times(REPLAY.all, SQL.all), byWork)],
    notes: [
      `The fleet has ${fleet.name}. Both read the same file and registry, as processes from start to end. DuckDB sorts out copies and corrections, keeps the ledger with its seven-day mean, compares it with three thresholds and sums salt by region and month; a test holds its counts, days, regenerations and gallons to those of the replay.`,
      'The replay also checks every line against the contract, infers twelve kinds of alert with their probabilities, and forecasts four quantities for each unit and day; it writes them as text. DuckDB writes its ledger as Parquet.',
      `In one thread the replay took ${times(REPLAY.one, SQL.one).toFixed(1)} times as long. Net of what each takes on no events, ${ours.toFixed(2)} s beside ${theirs.toFixed(2)} s in all threads.`,
    ],
  };
}

function byThreads({ one, all }: typeof REPLAY, wall: (name: string) => readonly number[]) {
  return [pointOf(1, wall(one)), pointOf(availableParallelism(), wall(all))];
}

function bound(fleet: Fleet, times: number, byWork: readonly Share[]): Bound {
  const beyond = byWork.filter(({ name }) => BEYOND_SQL.includes(name));
  const share = beyond.reduce((sum, each) => sum + each.share, 0);
  return {
    what: `Time of a replay beside DuckDB, both in all threads, ${fleet.name}`,
    asked: 'at most as long',
    measured: `${times.toFixed(2)} times as long`,
    holds: times <= 1,
    ...(times > 1 && {
      because: `${(100 * share).toFixed(0)} % of the replay's time goes to forecasts and watching, which SQL has no part in; by the profile: ${inWords(byWork)}. DuckDB works on columns in compiled code, and keeps only the members that it was asked for.`,
    }),
  };
}
