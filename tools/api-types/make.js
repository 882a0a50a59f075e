// Writes console/api/generated/api.d.ts: the types of the API, from the OpenAPI document that its routes make.
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import openapiTS, { astToString } from 'openapi-typescript';

const root = fileURLToPath(new URL('../..', import.meta.url));
const MADE = join(root, 'console/api/generated/api.d.ts');
const BUNDLE = join(root, 'dist/tools/document.js');

/** Packages stay where they are, but node cannot load their fonts; the document needs none. */
const withoutFonts = {
  name: 'without fonts',
  /** @param {import('esbuild').PluginBuild} build */
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /\.woff\?inline$/ }, ({ path }) => ({ path, namespace: 'font' }));
    onLoad({ filter: /.*/, namespace: 'font' }, () => ({ contents: '', loader: 'empty' }));
  },
};

await build({
  absWorkingDir: root,
  entryPoints: ['tools/api-types/document.ts'],
  outfile: BUNDLE,
  bundle: true,
  packages: 'external',
  platform: 'node',
  target: 'node20',
  format: 'esm',
  plugins: [withoutFonts],
  logLevel: 'warning',
});
const document = execFileSync(process.execPath, [BUNDLE], {
  cwd: root,
  encoding: 'utf8',
  maxBuffer: 1 << 26,
});
const types = astToString(await openapiTS(document));
mkdirSync(dirname(MADE), { recursive: true });
// Left alone where nothing changed, so that it does not look newer than what was built from it.
if (read(MADE) !== types) writeFileSync(MADE, types);

/** @param {string} path */
function read(path) {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return undefined;
  }
}
