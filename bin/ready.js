// Makes a clone ready to run, with nothing but node: installs the packages and builds dist/ where either is
// missing or out of date. In an installed package, which has neither lockfile nor sources, there is nothing to do.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const BUILDS = [
  {
    what: 'Building dist/',
    script: 'bin/build.js',
    sources: ['shared', 'lib', 'functions', 'infra', 'bin', 'console/csp.ts'],
    built: ['brinebell.js', 'replayWorker.js', 'service.js'],
  },
  {
    what: 'Building dist/console/',
    script: 'bin/buildConsole.js',
    sources: ['shared', 'console', 'bin/buildConsole.js'],
    built: ['console/index.html'],
  },
];
/** Types of the API, which the console's build does not need, and which the checks make anew each time. */
const NOT_SOURCES = new Set([join(root, 'console/api/generated')]);

/** Installs and builds as far as needed; what it says goes to standard error. Ends the process if either fails. */
export function ready() {
  if (!packagesCurrent()) run('Installing packages (npm ci)', 'npm', ['ci', '--no-audit', '--no-fund']);
  for (const build of BUILDS) {
    if (!buildCurrent(build)) run(build.what, process.execPath, [join(root, build.script)]);
  }
}

/** Whether node_modules holds what the lockfile asks for; by content, since a fresh clone has any times. */
function packagesCurrent() {
  const wanted = packagesIn('package-lock.json');
  if (!wanted) return true;
  const installed = packagesIn('node_modules/.package-lock.json');
  if (!installed) return false;
  return Object.entries(wanted).every(([path, entry]) => {
    if (path === '' || entry.link) return true;
    const found = installed[path];
    return found ? found.version === entry.version : Boolean(entry.optional);
  });
}

/**
 * @param {string} lockfile
 * @returns {Record<string, { version?: string, optional?: boolean, link?: boolean }> | undefined}
 */
function packagesIn(lockfile) {
  const path = join(root, lockfile);
  return existsSync(path) ? JSON.parse(readFileSync(path, 'utf8')).packages : undefined;
}

/** @param {{ sources: string[], built: string[] }} build */
function buildCurrent({ sources, built }) {
  if (!existsSync(join(root, 'shared'))) return true;
  const paths = built.map((name) => join(root, 'dist', name));
  if (!paths.every((path) => existsSync(path))) return false;
  const oldest = Math.min(...paths.map(timeOf));
  return sources.every((source) => newestIn(join(root, source)) <= oldest);
}

/**
 * @param {string} folder or a single file
 * @returns {number}
 */
function newestIn(folder) {
  if (!existsSync(folder) || NOT_SOURCES.has(folder)) return 0;
  if (!statSync(folder).isDirectory()) return timeOf(folder);
  // A folder's own time tells of files that were removed.
  const times = readdirSync(folder, { withFileTypes: true }).map((entry) => {
    const path = join(folder, entry.name);
    return entry.isDirectory() ? newestIn(path) : timeOf(path);
  });
  return Math.max(timeOf(folder), ...times);
}

/** @param {string} path */
function timeOf(path) {
  return statSync(path).mtimeMs;
}

/**
 * @param {string} what
 * @param {string} command
 * @param {string[]} args
 */
function run(what, command, args) {
  process.stderr.write(`${what} ...\n`);
  // npm is a script on Windows, which only a shell starts. Standard output is the command's own.
  const { status } = spawnSync(command, args, {
    cwd: root,
    stdio: ['ignore', 2, 2],
    shell: process.platform === 'win32' && command === 'npm',
  });
  if (status !== 0) {
    process.stderr.write(`${what} failed: see above.\n`);
    process.exit(1);
  }
}
