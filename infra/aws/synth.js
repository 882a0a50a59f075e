// What cdk.json names as the app: builds whatever is out of date (the console, the bundles of the functions), then makes
// the templates. Standard output belongs to the toolkit. Where BRINEBELL_BUNDLES names a folder, the bundles are taken from
// there as they are.
import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { ready } from '../../bin/ready.js';
import { bundled } from './bundled.js';

process.chdir(fileURLToPath(new URL('../..', import.meta.url)));
if (!process.env.BRINEBELL_BUNDLES) await makeBundles();
await import(await bundled('infra/aws/synth.ts'));

async function makeBundles() {
  ready();
  const { status } = spawnSync(process.execPath, ['infra/aws/bundle.js'], { stdio: ['ignore', 2, 2] });
  if (status !== 0) process.exit(status ?? 1);
  await bundled('infra/aws/publish/index.ts', 'dist/aws/publish/index.mjs', {
    minify: true,
    // AWS Lambda's runtime brings it: Lambda Developer Guide, "Runtime-included SDK versions".
    external: ['@aws-sdk/*'],
  });
  rmSync('dist/aws/publish/console', { recursive: true, force: true });
  cpSync('dist/console', 'dist/aws/publish/console', { recursive: true });
}
