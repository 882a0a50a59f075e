// Bundles the command and its worker into dist/, or the source files that are named: `node bin/build.js bench/x.ts`
// makes dist/bench/x.js. Bundled, the command starts in half the time that node takes to find the hundreds of small
// files of its libraries.
import { build } from 'esbuild';
import { BUNDLING, putInPlace } from '../infra/bundling.js';

const COMMAND = [
  { in: 'bin/brinebell.ts', out: 'brinebell' },
  { in: 'bin/replay/worker.ts', out: 'replayWorker' },
  { in: 'bin/service.ts', out: 'service' },
  { in: 'infra/local/trialWorker.ts', out: 'trialWorker' },
];

const named = process.argv.slice(2).map((path) => ({ in: path, out: path.replace(/\.ts$/, '') }));

const { outputFiles } = await build({
  ...BUNDLING,
  entryPoints: named.length > 0 ? named : COMMAND,
  outdir: 'dist',
  sourcemap: 'linked',
  // These need files of their own packages, which must stay where they are: a worker, a native addon, sources by name.
  external: ['piscina', 'classic-level', 'dynalite', 'playwright-core', '@duckdb/node-api'],
}).catch(() => process.exit(1)); // It has said why.

await putInPlace(outputFiles);
