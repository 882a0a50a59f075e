// What all bundles share: those of the command, of the benchmarks and of the cloud's functions.
import { mkdir, rename, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

export const ROOT = join(dirname(fileURLToPath(import.meta.url)), '..');

/** Some libraries are CommonJS and call `require`, which a module of its own does not have. */
const BANNER =
  "import { createRequire as requireFrom } from 'node:module'; const require = requireFrom(import.meta.url);";

/**
 * Leaves out what zod says in fifty languages, a third of a megabyte: nobody here speaks through it.
 *
 * @type {import('esbuild').Plugin}
 */
const oneLanguage = {
  name: 'one-language',
  setup({ onResolve }) {
    onResolve({ filter: /^\.\.\/locales\/index\.js$/ }, ({ resolveDir }) =>
      /[\\/]zod[\\/]v4[\\/]/.test(resolveDir) ? { path: join(ROOT, 'bin/noLocales.js') } : undefined,
    );
  },
};

/** @type {import('esbuild').BuildOptions & { write: false, plugins: import('esbuild').Plugin[] }} */
export const BUNDLING = {
  absWorkingDir: ROOT,
  bundle: true,
  platform: 'node',
  target: 'node20',
  format: 'esm',
  // Fonts are built in, and what only fonts of another packing need is not.
  loader: { '.woff': 'dataurl' },
  alias: { 'brotli/decompress.js': './bin/noBrotli.js' },
  plugins: [oneLanguage],
  banner: { js: BANNER },
  logLevel: 'warning',
  write: false,
};

/**
 * Puts each file in place whole, so that whoever starts meanwhile never loads half of one.
 *
 * @param {readonly { path: string, contents: Uint8Array }[]} files
 */
export async function putInPlace(files) {
  for (const { path, contents } of files) {
    const unfinished = join(dirname(path), `.${basename(path)}.${process.pid}`);
    await mkdir(dirname(path), { recursive: true });
    await writeFile(unfinished, contents);
    await rename(unfinished, path);
  }
}
