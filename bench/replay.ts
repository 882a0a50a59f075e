/**
 * How fast `brinebell replay` is in one thread, beside a pass that only parses the same lines as JSON; where its time
 * goes; and whether its memory grows with the days.
 *
 * usage: node bench/run.js replay [--units 100] [--days 365] [--rounds 3]
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { summarySchema } from '../shared/summary.ts';

const COMMAND = fileURLToPath(new URL('../brinebell.js', import.meta.url));
/** Makes a process say at its end what it took: at most how many kB of memory, and how many microseconds of CPU. */
const TELL_USE = `process.on('exit', () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  console.error('used', maxRSS, userCPUTime + systemCPUTime);
})`;

/** The work that a source file stands for: the first that fits. */
const WORK: readonly [work: string, file: RegExp][] = [
  ['reading and splitting', /bin\/replay\/(source|gunzip|blocks|admitBlock|takeIn|inOrder)|node:/],
  ['zod', /node_modules\/zod/],
  ['JSON.parse, admission', /shared\/(admission|canonical)/],
  ['dates and zones', /shared\/time/],
  ['to facts', /shared\//],
  ['sorting by unit', /bin\/replay\/(shuffle|chunk)/],
  ['forecasts', /lib\/demand|lib\/unit\/outlook|@stdlib/],
  ['fold', /lib\/(unit|softening|salt|replay)/],
  ['watch', /lib\/watch/],
  ['writing', /bin\//],
  ['collecting garbage', /\(garbage collector\)/],
  ['all else', /.*/],
];

const { values } = parseArgs({
  options: {
    units: { type: 'string', default: '100' },
    days: { type: 'string', default: '365' },
    rounds: { type: 'string', default: '3' },
  },
});
const folder = mkdtempSync(join(tmpdir(), 'brinebell-bench-'));
try {
  const days = Number(values.days);
  const year = fleet(days);
  measureSpeed(year, Number(values.rounds));
  profile(year);
  measureMemory(year, fleet(days * 4));
} finally {
  rmSync(folder, { recursive: true });
}

interface Fleet {
  days: number;
  events: string;
  units: string;
}

function fleet(days: number): Fleet {
  const path = join(folder, `${days}-days`);
  command([], 'simulate', '--units', values.units, '--days', String(days), '--out', path);
  return { days, events: join(path, 'events.ndjson'), units: join(path, 'units.json') };
}

/**
 * Replays and parses by turns, so that whatever else the machine does burdens both. CPU time is the fairer of the two
 * times on a machine that is shared, though it counts the helpers of the runtime too.
 */
function measureSpeed(given: Fleet, rounds: number): void {
  const unitDays = Number(values.units) * given.days;
  const turns = Array.from({ length: rounds }, () => ({
    replaying: replay(given),
    parsing: parseOnly(given),
  }));
  const wall = median(turns.map(({ replaying }) => replaying.elapsedSeconds));
  const cpu = median(turns.map(({ replaying }) => replaying.cpuSeconds));
  const parsing = median(turns.map((turn) => turn.parsing));
  console.log(`${unitDays} unit-days, medians of ${rounds} rounds`);
  console.log(`  replay      ${wall.toFixed(2)} s, ${Math.round(unitDays / wall)} unit-days a second`);
  console.log(`              ${cpu.toFixed(2)} s of CPU, ${Math.round(unitDays / cpu)} unit-days a second`);
  console.log(`  JSON.parse  ${parsing.toFixed(2)} s of CPU, ${(cpu / parsing).toFixed(1)} times as fast`);
}

/** Seconds of CPU that it takes to split the same lines and parse them. */
function parseOnly({ events }: Fleet): number {
  const began = process.cpuUsage();
  let members = 0;
  for (const line of readFileSync(events, 'utf8').split('\n')) {
    try {
      members += Object.keys(JSON.parse(line)).length;
    } catch {
      members += 1;
    }
  }
  if (members === 0) throw new Error('there was nothing to parse');
  const { user, system } = process.cpuUsage(began);
  return (user + system) / 1e6;
}

/** Prints where the time goes, by work and by file, from a profile of the runtime. */
function profile(given: Fleet): void {
  const path = join(folder, 'profile');
  replay(given, ['--cpu-prof', '--cpu-prof-dir', path]);
  const [file = ''] = readdirSync(path);
  const { nodes, samples, timeDeltas }: CpuProfile = JSON.parse(readFileSync(join(path, file), 'utf8'));
  const map = new SourceMap(JSON.parse(readFileSync(`${COMMAND}.map`, 'utf8')));
  const fileOf = new Map(nodes.map(({ id, callFrame }) => [id, sourceOf(callFrame, map)]));
  const byFile = new Map<string, number>();
  samples.forEach((id, index) => {
    const source = fileOf.get(id) ?? '';
    if (source !== '(idle)') byFile.set(source, (byFile.get(source) ?? 0) + (timeDeltas[index] ?? 0));
  });
  const byWork = new Map<string, number>();
  for (const [source, time] of byFile) {
    const work = WORK.find(([, pattern]) => pattern.test(source))?.[0] ?? '';
    byWork.set(work, (byWork.get(work) ?? 0) + time);
  }
  printShares('By work', byWork, byWork.size);
  printShares('By file', byFile, 15);
}

interface CpuProfile {
  nodes: { id: number; callFrame: CallFrame }[];
  samples: number[];
  timeDeltas: number[];
}

interface CallFrame {
  functionName: string;
  url: string;
  lineNumber: number;
  columnNumber: number;
}

function sourceOf({ functionName, url, lineNumber, columnNumber }: CallFrame, map: SourceMap): string {
  if (url === '') return functionName;
  if (!url.endsWith('/dist/brinebell.js')) return url;
  const entry = map.findEntry(lineNumber, columnNumber);
  return 'originalSource' in entry ? entry.originalSource.replace(/^(\.\.\/)+/, '') : url;
}

function printShares(title: string, times: ReadonlyMap<string, number>, most: number): void {
  const total = [...times.values()].reduce((sum, time) => sum + time, 0);
  console.log(`${title}`);
  for (const [name, time] of [...times].sort((a, b) => b[1] - a[1]).slice(0, most)) {
    console.log(`  ${((time / total) * 100).toFixed(1).padStart(5)} %  ${name}`);
  }
}

function measureMemory(...fleets: readonly Fleet[]): void {
  for (const memory of ['1', '32']) {
    for (const given of fleets) {
      const { peakMegabytes, read } = replay(given, [], memory);
      console.log(
        `${given.days} days (${read} events), --memory ${memory}: at most ${peakMegabytes} MB resident`,
      );
    }
  }
}

function replay({ events, units }: Fleet, node: readonly string[] = [], memory = '32') {
  const out = join(folder, 'replayed');
  const stderr = command(node, 'replay', events, '--units', units, '--out', out, '--memory', memory);
  const summary = summarySchema.parse(JSON.parse(readFileSync(join(out, 'summary.json'), 'utf8')));
  const [, kilobytes, microseconds] = /used (\d+) (\d+)/.exec(stderr) ?? [];
  return {
    ...summary,
    peakMegabytes: Math.round(Number(kilobytes) / 1024),
    cpuSeconds: Number(microseconds) / 1e6,
  };
}

function command(node: readonly string[], ...args: readonly string[]): string {
  const tellUse = ['--import', `data:text/javascript,${encodeURIComponent(TELL_USE)}`];
  const options = [...tellUse, ...node, COMMAND, ...args];
  const { status, stderr } = spawnSync(process.execPath, options, { encoding: 'utf8' });
  if (status !== 0) throw new Error(stderr);
  return stderr;
}

function median(numbers: readonly number[]): number {
  return [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? Number.NaN;
}
