// Bundles each function of the cloud into dist/aws/<function>/index.mjs, with what it loads only when it needs it beside
// it: `node infra/aws/bundle.js`, or `... --out DIR NAME=SOURCE.ts ...` for others. The same sources give the same bytes, so
// that what has not changed is not deployed anew. What is for reading only, maps and esbuild's account of what went in, goes
// to dist/aws-maps/: nothing is to be sent along that is not run.
import { readdirSync } from 'node:fs';
import { readdir, rm } from 'node:fs/promises';
import { basename, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parseArgs } from 'node:util';
import { build } from 'esbuild';
import { BUNDLING, putInPlace, ROOT } from '../bundling.js';
import { bundleSizes } from './bundleSizes.js';
import { onDemandBeside } from './onDemand.js';
import { standIn } from './standIn.js';
import { whenCalled } from './whenCalled.js';

const OUT = join(ROOT, 'dist/aws');
const ENTRY = 'index.mjs';

const STAND_INS = [
  standIn({
    asked: /^\.\/zoneData\.ts$/,
    by: /\/shared\/time\/zone\.ts$/,
    source: 'infra/aws/parts/zoneData.ts',
  }),
  standIn({
    asked: /^(@asteasolutions\/zod-to-openapi|zod)$/,
    by: /\/node_modules\/@hono\/zod-openapi\//,
    source: 'infra/aws/parts/openApiRegistry.js',
  }),
];

/** What works out distributions: 300 small modules, of which a unit's noon mostly needs none. */
const DISTRIBUTIONS = /^@stdlib\/stats-base-dists-\w+-cdf$/;

/** What answers requests does so by types of the web, which the runtime takes 28 ms to load. */
const ANSWERS_REQUESTS = /\/api\.ts$/;
const WEB_TYPES = 'infra/aws/parts/web/inBundles.ts';

/**
 * Bundles functions; returns what esbuild knows of each.
 *
 * @param {Readonly<Record<string, string>>} entries the source of each function, from the root
 * @param {string} [out] the folder of their folders; maps go beside it
 */
export async function bundle(entries, out = OUT) {
  /** @type {Record<string, import('esbuild').Metafile>} */
  const metafiles = {};
  for (const [name, source] of Object.entries(entries)) {
    const outdir = join(out, name);
    const { outputFiles, metafile } = await build({
      ...BUNDLING,
      entryPoints: [{ in: source, out: 'index' }],
      plugins: [...BUNDLING.plugins, ...STAND_INS, whenCalled(DISTRIBUTIONS), onDemandBeside(source)],
      outdir,
      outExtension: { '.js': '.mjs' },
      inject: ANSWERS_REQUESTS.test(source) ? [WEB_TYPES] : [],
      // What is imported on demand is a file of its own.
      splitting: true,
      chunkNames: '[name]-[hash]',
      minify: true,
      legalComments: 'none',
      // The modules of the libraries, of which only what is used is taken.
      mainFields: ['module', 'main'],
      alias: {
        ...BUNDLING.alias,
        '@aws-sdk/credential-provider-node': './infra/aws/parts/sdkCredentials.js',
        '@aws-lambda-powertools/jmespath': './infra/aws/parts/noJmespath.js',
        '@aws-lambda-powertools/jmespath/functions': './infra/aws/parts/noJmespath.js',
      },
      sourcemap: 'external',
      metafile: true,
    });
    const isMap = (/** @type {{ path: string }} */ { path }) => path.endsWith('.map');
    const isEntry = (/** @type {{ path: string }} */ { path }) => basename(path) === ENTRY;
    const run = outputFiles.filter((file) => !isMap(file));
    // The entry last: what it names is there when it is, and what it named before until then.
    await putInPlace(run.filter((file) => !isEntry(file)));
    await putInPlace(run.filter(isEntry));
    const current = new Set(run.map(({ path }) => basename(path)));
    for (const file of await readdir(outdir)) {
      if (!current.has(file)) await rm(join(outdir, file), { recursive: true });
    }
    const toRead = outputFiles.filter(isMap);
    await putInPlace([
      ...toRead.map((file) => ({ ...file, path: join(`${out}-maps`, relative(out, file.path)) })),
      {
        path: join(`${out}-maps`, name, 'meta.json'),
        contents: new TextEncoder().encode(JSON.stringify(metafile)),
      },
    ]);
    metafiles[name] = metafile;
  }
  return metafiles;
}

/** The functions of the cloud by their sources. */
export function handlers() {
  const names = readdirSync(join(ROOT, 'infra/aws/handlers')).sort();
  return Object.fromEntries(names.map((name) => [basename(name, '.ts'), `infra/aws/handlers/${name}`]));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const { values, positionals } = parseArgs({
    options: { out: { type: 'string', default: OUT } },
    allowPositionals: true,
  });
  const named = Object.fromEntries(positionals.map((each) => each.split('=', 2)));
  const metafiles = await bundle(positionals.length > 0 ? named : handlers(), resolve(values.out));
  for (const [name, metafile] of Object.entries(metafiles)) {
    const { start, onDemand } = bundleSizes(metafile);
    console.log(`${name}: ${start} bytes at its start, ${onDemand} on demand`);
  }
}
