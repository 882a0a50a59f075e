// Bundles the command and its worker into dist/, or the source files that are named: `node bin/build.js bench/x.ts`
// makes dist/bench/x.js. Bundled, the command starts in half the time that node takes to find the hundreds of small
// files of its libraries.
import { mkdir, rename, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const COMMAND = [
  { in: 'bin/brinebell.ts', out: 'brinebell' },
  { in: 'bin/replay/worker.ts', out: 'replayWorker' },
  { in: 'bin/service.ts', out: 'service' },
];

/** Some libraries are CommonJS and call `require`, which a module of its own does not have. */
const BANNER =
  "import { createRequire as requireFrom } from 'node:module'; const require = requireFrom(import.meta.url);";

const named = process.argv.slice(2).map((path) => ({ in: path, out: path.replace(/\.ts$/, '') }));

const { outputFiles } = await build({
  absWorkingDir: join(dirname(fileURLToPath(import.meta.url)), '..'),
  entryPoints: named.length > 0 ? named : COMMAND,
  outdir: 'dist',
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  sourcemap: 'linked',
  // These need files of their own packages, which must stay where they are: a worker, a native addon, sources by name.
  external: ['piscina', 'classic-level', 'dynalite', 'playwright-core', '@duckdb/node-api'],
  // Fonts are built in, and what only fonts of another packing need is not.
  loader: { '.woff': 'dataurl' },
  alias: { 'brotli/decompress.js': './bin/noBrotli.js' },
  banner: { js: BANNER },
  logLevel: 'warning',
  write: false,
}).catch(() => process.exit(1)); // It has said why.

// Each file is put in place whole, so that a command that starts meanwhile never loads half of one.
for (const { path, contents } of outputFiles) {
  const unfinished = join(dirname(path), `.${basename(path)}.${process.pid}`);
  await mkdir(dirname(path), { recursive: true });
  await writeFile(unfinished, contents);
  await rename(unfinished, path);
}
