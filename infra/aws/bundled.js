import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

const root = fileURLToPath(new URL('../..', import.meta.url));

/**
 * Bundles a source of this folder, which node cannot run as it is, and says where the bundle is. Libraries stay where they
 * are. Ends the process if it cannot.
 *
 * @param {string} source from the root
 * @param {string} [outfile] from the root
 * @param {import('esbuild').BuildOptions} [options]
 */
export async function bundled(
  source,
  outfile = join('dist', source.replace(/\.ts$/, '.mjs')),
  options = { packages: 'external' },
) {
  await build({
    ...{ absWorkingDir: root, entryPoints: [source], outfile, bundle: true },
    ...{ platform: 'node', target: 'node20', format: 'esm', logLevel: 'warning' },
    ...options,
  }).catch(() => process.exit(1)); // It has said why.
  return join(root, outfile);
}
