import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { join } from 'node:path';
import { COMMAND, type Fleet } from '../../set/fleet.ts';
import { replayed } from './replayed.ts';

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
const FOLDER = 'out/bench/profile';

/** A part of the time, from 0 to 1, and what it went to. */
export interface Share {
  readonly name: string;
  readonly share: number;
}

/** Where the time of a replay in one thread goes by the runtime's profile, most first: by work, and by source file. */
export async function profileOf(fleet: Fleet): Promise<{ byWork: Share[]; byFile: Share[] }> {
  rmSync(FOLDER, { recursive: true, force: true });
  await replayed(fleet, 1, ['--cpu-prof', '--cpu-prof-dir', FOLDER]);
  const [file = ''] = readdirSync(FOLDER);
  const { nodes, samples, timeDeltas }: CpuProfile = JSON.parse(readFileSync(join(FOLDER, file), 'utf8'));
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
  return { byWork: shares(byWork), byFile: shares(byFile) };
}

/** "31 % forecasts, 20 % fold": those that take a twentieth or more. */
export function inWords(parts: readonly Share[]): string {
  return parts
    .filter(({ share }) => share >= 0.05)
    .map(({ name, share }) => `${(100 * share).toFixed(0)} % ${name}`)
    .join(', ');
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
  if (!url.endsWith(`/${COMMAND}`)) return url;
  const entry = map.findEntry(lineNumber, columnNumber);
  return 'originalSource' in entry ? entry.originalSource.replace(/^(\.\.\/)+/, '') : url;
}

function shares(times: ReadonlyMap<string, number>): Share[] {
  const total = [...times.values()].reduce((sum, time) => sum + time, 0);
  return [...times].sort((a, b) => b[1] - a[1]).map(([name, time]) => ({ name, share: time / total }));
}
