import { execFileSync } from 'node:child_process';

/** Builds a script that a comparison runs in a process of its own, and tells where it is then. */
export function buildScript(source: string): string {
  execFileSync(process.execPath, ['bin/build.js', source], { stdio: ['ignore', 'ignore', 'inherit'] });
  return `dist/${source.replace(/\.ts$/, '.js')}`;
}
