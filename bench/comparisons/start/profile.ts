import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { SourceMap } from 'node:module';
import { basename, join } from 'node:path';
import { byWork, timesBySource, type Work } from '../../set/cpuProfile.ts';
import type { Case } from './cases.ts';
import { startOnce } from './startOnce.ts';

const WORK: Work = [
  ['compiling what is loaded', /^node:internal\/modules\/esm\/(utils|translators)$/],
  ['zod', /node_modules\/(zod|@hono\/zod-\w+)\//],
  ['the SDK', /node_modules\/(@aws-sdk|@smithy|@aws)\//],
  ['Parquet', /node_modules\/hyparquet/],
  ['other libraries', /node_modules\//],
  ['collecting garbage', /^\(garbage collector\)$/],
  ['our own code', /(^|\/)(lib|functions|shared|infra)\//],
  ['what modules do as they are loaded', /\.mjs$/],
  ['the runtime itself', /.*/],
];
const FOLDER = 'out/bench/startProfile';
/** One start is too short for the sampler to tell much of. */
const STARTS = 3;

/** The parts of a start, from 0 to 1, by the work that they went to. */
export async function profileOfStart(
  out: string,
  each: Case,
  env: Readonly<Record<string, string>>,
): Promise<ReadonlyMap<string, number>> {
  const folder = join(FOLDER, each.lambda);
  rmSync(folder, { recursive: true, force: true });
  const options = ['--cpu-prof', '--cpu-prof-interval', '200', '--cpu-prof-dir', folder];
  for (let start = 0; start < STARTS; start += 1) {
    await startOnce(join(out, each.lambda, 'index.mjs'), each, env, options);
  }
  const maps = new Map<string, SourceMap | undefined>();
  const mapOf = (url: string) => {
    const path = join(`${out}-maps`, each.lambda, `${basename(url)}.map`);
    if (!maps.has(path)) {
      maps.set(path, existsSync(path) ? new SourceMap(JSON.parse(readFileSync(path, 'utf8'))) : undefined);
    }
    return maps.get(path);
  };
  const sums = new Map<string, number>();
  let total = 0;
  for (const file of readdirSync(folder)) {
    for (const [work, time] of byWork(timesBySource(join(folder, file), mapOf), WORK)) {
      sums.set(work, (sums.get(work) ?? 0) + time);
      total += time;
    }
  }
  return new Map([...sums].map(([work, time]) => [work, time / total]));
}

/** A start: what it took of processors, milliseconds, and what of that went to what. */
interface Profiled {
  readonly cpuMs: number;
  readonly shares: ReadonlyMap<string, number>;
}

/** What a start takes beyond another, most first: "beyond the bare one it takes 20 ms for zod, 12 ms for ...". */
export function inWords(mine: Profiled, other: Profiled): string {
  const of = ({ cpuMs, shares }: Profiled, work: string) => cpuMs * (shares.get(work) ?? 0);
  const parts = WORK.map(([work]) => ({ work, ms: Math.round(of(mine, work) - of(other, work)) }))
    .filter(({ ms }) => ms >= 2)
    .sort((a, b) => b.ms - a.ms)
    .map(({ work, ms }) => `${ms} ms for ${work}`);
  return `by the profiles of both, it takes beyond the bare one ${parts.join(', ')}.`;
}
