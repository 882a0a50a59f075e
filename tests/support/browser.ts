import { spawnSync } from 'node:child_process';
import { accessSync, constants } from 'node:fs';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome-stable', 'google-chrome'];

/**
 * Starts the system's Chromium. Where there is none it is installed as Debian's package, if that may be done here.
 *
 * @throws Error that says in one line what to install
 */
export async function startBrowser(): Promise<Browser> {
  const executablePath = found() ?? installed();
  if (executablePath === undefined)
    throw new Error(
      'These tests need Chromium: install it (Debian: apt-get install chromium) or name it in CHROMIUM_PATH.',
    );
  return chromium.launch({
    executablePath,
    // Containers seldom let a browser make its own sandbox; what is opened is our own pages.
    args: ['--no-sandbox', '--disable-dev-shm-usage'],
  });
}

function found(): string | undefined {
  const folders = (process.env.PATH ?? '').split(delimiter);
  const places = folders.flatMap((folder) => NAMES.map((name) => join(folder, name)));
  return [process.env.CHROMIUM_PATH ?? '', ...places].find(isExecutable);
}

function isExecutable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return path !== '';
  } catch {
    return false;
  }
}

/** Only root may install packages. */
function installed(): string | undefined {
  if (process.getuid?.() !== 0) return undefined;
  for (const args of [
    ['update', '-qq'],
    ['install', '-y', '-qq', '--no-install-recommends', 'chromium'],
  ]) {
    const { status } = spawnSync('apt-get', args, {
      stdio: 'ignore',
      env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
    });
    if (status !== 0) return undefined;
  }
  return found();
}
