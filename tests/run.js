// `npm test`: the type check, the linters and all tests, each whether or not another failed. The last line counts
// what passed and what failed: each check as one, and every test.
import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { ready } from '../bin/ready.js';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const CHECKS = [['tsc'], ['tsc', '-p', 'console'], ['biome', 'check', '.'], ['knip']];

ready();
// The console is checked against the API as it is now.
execFileSync(process.execPath, [join(root, 'tools/api-types/make.js')], { stdio: 'inherit' });
const count = { passed: 0, failed: 0 };
for (const check of CHECKS) count[(await succeeds(check)) ? 'passed' : 'failed'] += 1;
await countTests();
process.exitCode = count.failed === 0 ? 0 : 1;
console.log(`${count.passed} passed, ${count.failed} failed`);

async function countTests() {
  const folder = mkdtempSync(join(tmpdir(), 'brinebell-tests-'));
  const file = join(folder, 'report.json');
  const succeeded = await succeeds([
    'vitest',
    'run',
    ...['--reporter=default', '--reporter=json', `--outputFile.json=${file}`],
    ...process.argv.slice(2),
  ]);
  try {
    const report = JSON.parse(readFileSync(file, 'utf8'));
    count.passed += report.numPassedTests;
    count.failed += report.numFailedTests;
    // A file that cannot be loaded, or an error outside of all tests, is a failure that no test tells of.
    if (!succeeded && report.numFailedTests === 0) count.failed += 1;
  } catch {
    console.log('The tests ended without a report.');
    count.failed += 1;
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/**
 * Runs a tool of node_modules with its output shown, and tells whether it succeeded.
 *
 * @param {string[]} command
 */
async function succeeds([tool = '', ...args]) {
  console.log(`\n> ${tool} ${args.join(' ')}`);
  const path = join(root, 'node_modules/.bin', tool);
  const child = spawn(path, args, { cwd: root, stdio: 'inherit', shell: process.platform === 'win32' });
  const [status] = await once(child, 'exit');
  return status === 0;
}
