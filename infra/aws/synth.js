// What cdk.json names as the app: builds whatever is out of date (the console, the bundles of the functions), then makes
// the templates. Standard output belongs to the toolkit. Where BRINEBELL_BUNDLES names a folder, the bundles are taken from
// there as they are.
import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { ready } from '../../bin/ready.js';

const root = fileURLToPath(new URL('../..', import.meta.url));
process.chdir(root);

if (!process.env.BRINEBELL_BUNDLES) await makeBundles();
await bundle('infra/aws/synth.ts', 'dist/infra/aws/synth.mjs', { packages: 'external' });
await import(join(root, 'dist/infra/aws/synth.mjs'));

async function makeBundles() {
  ready();
  run('infra/aws/bundle.js');
  await bundle('infra/aws/publish/index.ts', 'dist/aws/publish/index.mjs', {
    minify: true,
    // AWS Lambda's runtime brings it: Lambda Developer Guide, "Runtime-included SDK versions".
    external: ['@aws-sdk/*'],
  });
  rmSync('dist/aws/publish/console', { recursive: true, force: true });
  cpSync('dist/console', 'dist/aws/publish/console', { recursive: true });
}

/**
 * @param {string} from
 * @param {string} to
 * @param {import('esbuild').BuildOptions} options
 */
async function bundle(from, to, options) {
  await build({
    entryPoints: [from],
    outfile: to,
    bundle: true,
    platform: 'node',
    target: 'node20',
    format: 'esm',
    logLevel: 'warning',
    ...options,
  }).catch(() => process.exit(1)); // It has said why.
}

/** @param {string} script */
function run(script) {
  const { status } = spawnSync(process.execPath, [script], { stdio: ['ignore', 2, 2] });
  if (status !== 0) process.exit(status ?? 1);
}
