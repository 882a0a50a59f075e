// Bundles each function of the cloud into dist/aws/<function>/index.mjs, with what it loads only when it needs it beside
// it: `node infra/aws/bundle.js`. The same sources give the same bytes, so that what has not changed is not deployed anew.
// Maps for reading traces go to dist/aws-maps/, since nothing is to be sent along that is not run.
import { readdirSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { basename, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { BUNDLING, putInPlace, ROOT } from '../../bin/bundling.js';

const OUT = join(ROOT, 'dist/aws');
const MAPS = join(ROOT, 'dist/aws-maps');

/**
 * Bundles functions; returns what esbuild knows of each.
 *
 * @param {Readonly<Record<string, string>>} entries the source of each function, from the root
 * @param {{ out?: string, maps?: string }} [to]
 */
export async function bundle(entries, { out = OUT, maps = MAPS } = {}) {
  /** @type {Record<string, import('esbuild').Metafile>} */
  const metafiles = {};
  for (const [name, source] of Object.entries(entries)) {
    const outdir = join(out, name);
    const { outputFiles, metafile } = await build({
      ...BUNDLING,
      entryPoints: [{ in: source, out: 'index' }],
      outdir,
      outExtension: { '.js': '.mjs' },
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
      },
      sourcemap: 'external',
      metafile: true,
    });
    const isMap = (/** @type {{ path: string }} */ { path }) => path.endsWith('.map');
    await rm(outdir, { recursive: true, force: true });
    await putInPlace(outputFiles.filter((file) => !isMap(file)));
    await putInPlace(
      outputFiles
        .filter(isMap)
        .map(({ path, contents }) => ({ path: join(maps, relative(out, path)), contents })),
    );
    metafiles[name] = metafile;
  }
  return metafiles;
}

/** The functions of the cloud by their sources. */
export function handlers() {
  const names = readdirSync(join(ROOT, 'infra/aws/handlers')).sort();
  return Object.fromEntries(names.map((name) => [basename(name, '.ts'), `infra/aws/handlers/${name}`]));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) await bundle(handlers());
