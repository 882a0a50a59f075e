/**
 * How long the functions of the cloud take from nothing to their first answer, as they are bundled, each in a fresh
 * process and beside one that does nothing with the same clients of the SDK but to read one item. The table is an emulator
 * in another process. All take turns, so that whatever else the machine does meets all of them; and they are judged by what
 * they take of processors, which that changes little.
 *
 * usage: node bench/run.js start [--runs 15] [--only NAME]
 */
import { execFileSync, fork } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { bundleSizes } from '../infra/aws/bundleSizes.js';
import { quantile } from '../lib/score/statistics.ts';
import { localGlue } from '../tests/support/aws/glue.ts';
import { localS3 } from '../tests/support/aws/s3.ts';
import { localSqs } from '../tests/support/aws/sqs.ts';
import { BUCKET, functionEnvironment } from '../tests/support/lambda/environment.ts';
import { CASES, type Case } from './start/cases.ts';
import { type Start, startOnce } from './start/startOnce.ts';

const LIMIT = 1.5;
const MOST_BYTES = 1_000_000;
const EMPTY = ['empty', 'emptyTable', 'emptyTableQueue', 'emptyTableFiles'];
const OUT = 'out/start';

const { values } = parseArgs({
  options: { runs: { type: 'string', default: '15' }, only: { type: 'string', default: '' } },
});

execFileSync(process.execPath, ['bin/build.js', 'bench/start/tableProcess.ts']);
execFileSync(process.execPath, ['infra/aws/bundle.js', '--out', OUT, ...sources()]);

const table = fork('dist/bench/start/tableProcess.js');
const { endpoint, tableName } = await new Promise<{ endpoint: string; tableName: string }>((resolve) =>
  table.once('message', (message: { endpoint: string; tableName: string }) => resolve(message)),
);
const [sqs, s3, glue] = await Promise.all([localSqs(), localS3(BUCKET), localGlue()]);
const env = environment();

const cases = CASES.filter(({ name, beside }) => beside === undefined || name.includes(values.only));
const starts = new Map<Case, Start[]>(cases.map((each) => [each, []]));
for (let run = 0; run < Number(values.runs); run += 1) {
  for (const [each, all] of starts) all.push(await startOnce(join(OUT, each.lambda, 'index.mjs'), each, env));
}
table.kill();
await Promise.all([sqs.close(), s3.close(), glue.close()]);

const rows = cases.map((each) => {
  const besides = cases.find(({ lambda }) => lambda === each.beside);
  const own = starts.get(each) ?? [];
  const others = besides && starts.get(besides);
  const ratioOf = (what: keyof Start) => (others ? median(own, what) / median(others, what) : Number.NaN);
  return {
    first: each.name,
    ...{
      'wall ms': told(own, 'wallMs'),
      'cpu ms': told(own, 'cpuMs'),
      'loaded, cpu ms': told(own, 'loadedCpuMs'),
    },
    ...(others && {
      wall: ratioOf('wallMs').toFixed(2),
      cpu: ratioOf('cpuMs').toFixed(2),
      limit: each.judged ? (ratioOf('cpuMs') <= LIMIT ? 'holds' : 'OVER') : '',
    }),
  };
});
console.log(
  `from nothing to the first answer, median (from the lower to the upper quartile) of ${values.runs}; beside the empty one, at most ${LIMIT}`,
);
console.table(rows);

const lambdas = [...new Set(cases.map(({ lambda }) => lambda))];
console.log(`bytes of each bundle; at most ${MOST_BYTES} when it starts`);
console.table(
  Object.fromEntries(
    lambdas.map((name) => {
      const { start, onDemand } = bundleSizes(
        JSON.parse(readFileSync(join(`${OUT}-maps`, name, 'meta.json'), 'utf8')),
      );
      const limit = start <= MOST_BYTES ? 'holds' : 'OVER';
      return [name, { 'at start': start, 'on demand': onDemand, all: start + onDemand, limit }];
    }),
  ),
);

function sources(): string[] {
  const names = [...new Set(CASES.map(({ lambda }) => lambda))];
  return names.map(
    (name) => `${name}=${EMPTY.includes(name) ? `bench/start/${name}.ts` : `infra/aws/handlers/${name}.ts`}`,
  );
}

function environment(): Record<string, string> {
  return {
    DYNAMODB_ENDPOINT: endpoint,
    AWS_ENDPOINT_URL_SQS: sqs.endpoint,
    AWS_ENDPOINT_URL_S3: s3.endpoint,
    AWS_ENDPOINT_URL_GLUE: glue.endpoint,
    ...functionEnvironment(tableName, sqs.urlOf),
  };
}

function median(all: readonly Start[], what: keyof Start): number {
  return (
    quantile(
      all.map((each) => each[what]),
      0.5,
    ) ?? Number.NaN
  );
}

function told(all: readonly Start[], what: keyof Start): string {
  const at = (share: number) =>
    (
      quantile(
        all.map((each) => each[what]),
        share,
      ) ?? Number.NaN
    ).toFixed(0);
  return `${at(0.5)} (${at(0.25)} to ${at(0.75)})`;
}
