import { type ChildProcess, execFileSync, fork } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { bundleSizes } from '../../infra/aws/bundleSizes.js';
import { localGlue } from '../../tests/support/aws/glue.ts';
import { localS3 } from '../../tests/support/aws/s3.ts';
import { localSqs } from '../../tests/support/aws/sqs.ts';
import { BUCKET, functionEnvironment } from '../../tests/support/lambda/environment.ts';
import { buildScript } from '../set/buildScript.ts';
import { byTurns } from '../set/byTurns.ts';
import { median } from '../set/spread.ts';
import type { Bound, Comparison, Found, Measured } from './comparison.ts';
import { CASES, type Case, SOURCES } from './start/cases.ts';
import { firstPage } from './start/firstPage.ts';
import { inWords, profileOfStart } from './start/profile.ts';
import { type Start, startOnce } from './start/startOnce.ts';

const MOST_TIMES = 1.5;
const MOST_BYTES = 1_000_000;
const ROUNDS = { small: 2, whole: 25 } as const;
const OUT = 'out/start';
const SERVICE = 'npm start, an empty folder';
const PARTS = 'bench/comparisons/start';

/**
 * How long the functions of the cloud take from nothing to their first answer, as they are bundled, each in a fresh process
 * and beside one that does nothing with the same clients of the SDK but to read one item. The table is an emulator in
 * another process. They are judged by what they take of processors, which whatever else the machine does changes little.
 */
export const start: Comparison = {
  name: 'start',
  question:
    'How long does each function take from nothing to its first answer, beside one with only a client?',
  async run(size, say) {
    const script = buildScript(`${PARTS}/tableProcess.ts`);
    const named = Object.entries(SOURCES).map((each) => each.join('='));
    execFileSync(process.execPath, ['infra/aws/bundle.js', '--out', OUT, ...named], { stdio: 'ignore' });
    const table = fork(script, { stdio: ['ignore', 'ignore', 'inherit', 'ipc'] });
    let close: () => Promise<unknown> = async () => undefined;
    try {
      const [env, closeAll] = await environment(table);
      close = closeAll;
      const sides = CASES.map((each) => ({
        name: each.name,
        run: () => startOnce(join(OUT, each.lambda, 'index.mjs'), each, env),
      }));
      say(
        'a round that is not counted: what it leaves in the table and the bucket, those after it find there',
      );
      for (const side of sides) await side.run();
      const starts = await byTurns(sides, ROUNDS[size], say);
      say(SERVICE);
      const pages: number[] = [];
      for (let round = 0; round < Math.min(3, ROUNDS[size]); round += 1) pages.push(await firstPage());
      const missed = CASES.filter((each) => each.judged && timesOf(starts, each, 'cpuMs') > MOST_TIMES);
      const because = new Map<string, string>();
      for (const each of missed) {
        say(`where the time goes: ${each.name}`);
        because.set(each.name, await extraOf(each, starts, env));
      }
      return found(starts, pages, because);
    } finally {
      table.kill();
      await close();
    }
  },
};

type Starts = ReadonlyMap<string, readonly Start[]>;

function besideOf(each: Case): Case | undefined {
  return CASES.find(({ lambda }) => lambda === each.beside);
}

function roundsOf(starts: Starts, { name }: Case, what: keyof Start): number[] {
  return (starts.get(name) ?? []).map((each) => each[what]);
}

/** How many times what the bare one takes: the median of rounds, for in a round the machine is as quick for both. */
function timesOf(starts: Starts, each: Case, what: keyof Start): number {
  const other = besideOf(each);
  if (!other) return 1;
  const bare = roundsOf(starts, other, what);
  return median(roundsOf(starts, each, what).map((mine, round) => mine / (bare[round] ?? Number.NaN)));
}

/** What a function's start takes beyond that of the bare one, by profiles of both. */
async function extraOf(each: Case, starts: Starts, env: Readonly<Record<string, string>>): Promise<string> {
  const profiled = async (side: Case) => ({
    cpuMs: median(roundsOf(starts, side, 'cpuMs')),
    shares: await profileOfStart(OUT, side, env),
  });
  const other = besideOf(each);
  return other ? inWords(await profiled(each), await profiled(other)) : '';
}

function found(starts: Starts, pages: readonly number[], because: ReadonlyMap<string, string>): Found {
  const of = (each: Case, what: keyof Start) => roundsOf(starts, each, what);
  const lambdas = [...new Set(CASES.map(({ lambda }) => lambda))];
  const sizes = new Map(lambdas.map((name) => [name, sizesOf(name)]));
  const largest = Math.max(...[...sizes.values()].map((each) => each.start));
  return {
    measured: [
      ...CASES.flatMap((each): Measured[] => [
        { what: each.name, unit: 'ms of CPU to the first answer', rounds: of(each, 'cpuMs') },
        { what: each.name, unit: 'ms of CPU until it is loaded', rounds: of(each, 'loadedCpuMs') },
      ]),
      { what: SERVICE, unit: 'seconds to the first page', rounds: pages },
      ...lambdas.flatMap((name): Measured[] => [
        { what: name, unit: 'bytes at its start', rounds: [sizes.get(name)?.start ?? 0] },
        { what: name, unit: 'bytes on demand', rounds: [sizes.get(name)?.onDemand ?? 0] },
      ]),
    ],
    plots: [],
    bounds: [
      ...CASES.filter(({ judged }) => judged).map((each) =>
        bound(each, timesOf(starts, each, 'cpuMs'), timesOf(starts, each, 'loadedCpuMs'), because),
      ),
      {
        what: 'What the largest function loads at its start',
        asked: 'at most 1 MB (1,000,000 bytes)',
        measured: `${largest.toLocaleString('en-US')} bytes`,
        holds: largest <= MOST_BYTES,
      },
    ],
    notes: [
      'The bare function is bundled in the same way, has the same clients of the SDK, and reads one item that is not there; ours does the work that its first message asks for. Both are processes of Node.js on this machine, and the services of AWS are stand-ins on it: what AWS Lambda itself takes is in neither.',
      'A function that only claims tokens has no client, and is compared with one that does nothing at all.',
    ],
  };
}

function bound({ name }: Case, times: number, loaded: number, because: ReadonlyMap<string, string>): Bound {
  const holds = times <= MOST_TIMES;
  return {
    what: `From nothing to the first answer, ${name}`,
    asked: `at most ${MOST_TIMES} times the CPU of the bare one`,
    measured: `${times.toFixed(2)} times (until it is loaded: ${loaded.toFixed(2)})`,
    holds,
    ...(!holds && { because: because.get(name) ?? '' }),
  };
}

function sizesOf(name: string) {
  return bundleSizes(JSON.parse(readFileSync(join(`${OUT}-maps`, name, 'meta.json'), 'utf8')));
}

/** What functions find in their environment, and what closes the services that it names. */
async function environment(
  table: ChildProcess,
): Promise<[Readonly<Record<string, string>>, () => Promise<unknown>]> {
  const [{ endpoint, tableName }] = await Promise.race([
    once(table, 'message', { signal: AbortSignal.timeout(60_000) }),
    once(table, 'exit').then(() => Promise.reject(new Error('the process of the table has ended'))),
  ]);
  const [sqs, s3, glue] = await Promise.all([localSqs(), localS3(BUCKET), localGlue()]);
  const env = {
    DYNAMODB_ENDPOINT: endpoint,
    AWS_ENDPOINT_URL_SQS: sqs.endpoint,
    AWS_ENDPOINT_URL_S3: s3.endpoint,
    AWS_ENDPOINT_URL_GLUE: glue.endpoint,
    ...functionEnvironment(tableName, sqs.urlOf),
  };
  return [env, () => Promise.all([sqs.close(), s3.close(), glue.close()])];
}
