// `npm start`: simulates a small fleet, half a year of it, and replays what its meters sent.
import { spawnSync } from 'node:child_process';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ready } from './ready.js';

const bin = dirname(fileURLToPath(import.meta.url));
const fleet = relative('.', join(bin, '../out/demo'));

ready();
brinebell('simulate', '--faults', 'demo', '--out', fleet);
brinebell(
  'replay',
  join(fleet, 'events.ndjson'),
  '--units',
  join(fleet, 'units.json'),
  '--out',
  join(fleet, 'replayed'),
);
console.log(`What really happened in this invented fleet is in ${join(fleet, 'truth.json')}.`);

/** @param {...string} args */
function brinebell(...args) {
  console.log(`\n$ npx brinebell ${args.join(' ')}\n`);
  const { status } = spawnSync(process.execPath, [join(bin, 'brinebell.js'), ...args], { stdio: 'inherit' });
  if (status !== 0) process.exit(status ?? 1);
}
