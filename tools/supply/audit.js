// Asks the registry for known vulnerabilities of everything in the lockfile, tools for building too. Ends with 1 where
// one is high or critical, and with 2 where the registry does not answer: that is not the same as nothing found.
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { auditVerdict } from './auditVerdict.js';

const { stdout } = spawnSync('npm', ['audit', '--json', '--package-lock-only'], {
  cwd: fileURLToPath(new URL('../..', import.meta.url)),
  encoding: 'utf8',
  maxBuffer: 1 << 28,
  shell: process.platform === 'win32',
});
const { status, words } = auditVerdict(stdout);
console.log(words);
process.exitCode = status;
