// Builds and runs one of the benchmarks of this folder: `node bench/run.js watching --seed 7`.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ready } from '../bin/ready.js';

const bench = dirname(fileURLToPath(import.meta.url));
const root = join(bench, '..');
const [name = '', ...args] = process.argv.slice(2);

if (!existsSync(join(bench, `${name}.ts`))) {
  const names = readdirSync(bench).filter((file) => file.endsWith('.ts'));
  console.error(`Name one of: ${names.map((file) => file.replace('.ts', '')).join(', ')}`);
  process.exit(2);
}
ready();
node(join(root, 'bin/build.js'), `bench/${name}.ts`);
node(join(root, 'dist/bench', `${name}.js`), ...args);

/** @param {...string} args */
function node(...args) {
  const { status } = spawnSync(process.execPath, args, { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}
