import { spawn } from 'node:child_process';

/** What a process took from its start to its end. */
export interface Use {
  readonly wallSeconds: number;
  /** Of all its threads. */
  readonly cpuSeconds: number;
  /** The most memory that was resident at once. */
  readonly peakMegabytes: number;
  readonly stdout: string;
}

/**
 * Makes a process say at its end what it took: at most how many kB of memory, and how many microseconds of CPU. Linux counts in
 * `maxRSS` what the process that started it held at that moment, and in `VmHWM` (proc(5)) its own alone.
 */
const TELL_USE = `import { existsSync, readFileSync } from 'node:fs';
import { isMainThread } from 'node:worker_threads';
if (isMainThread) process.on('exit', () => {
  const { maxRSS, userCPUTime, systemCPUTime } = process.resourceUsage();
  const status = '/proc/self/status';
  const own = existsSync(status) ? /VmHWM:\\s*(\\d+) kB/.exec(readFileSync(status, 'utf8')) : null;
  console.error('used', own ? own[1] : maxRSS, userCPUTime + systemCPUTime);
});`;
const USED = /^used (\d+) (\d+)$/m;

/**
 * Runs a script of node in a process of its own.
 *
 * @param args options of node, the script, and what is given to it
 * @throws Error with what it wrote to standard error, where it fails
 */
export async function measuredProcess(...args: readonly string[]): Promise<Use> {
  const tellUse = ['--import', `data:text/javascript,${encodeURIComponent(TELL_USE)}`];
  const began = performance.now();
  const child = spawn(process.execPath, [...tellUse, ...args], { stdio: ['ignore', 'pipe', 'pipe'] });
  let stdout = '';
  let stderr = '';
  child.stdout.on('data', (text: Buffer) => {
    stdout += text;
  });
  child.stderr.on('data', (text: Buffer) => {
    stderr += text;
  });
  const status = await new Promise<number | null>((resolve, reject) => {
    child.on('error', reject);
    child.on('close', resolve);
  });
  const wallSeconds = (performance.now() - began) / 1000;
  const used = USED.exec(stderr);
  if (status !== 0 || !used) throw new Error(`${args.join(' ')} failed (${status}): ${stderr}`);
  const [, kilobytes, microseconds] = used;
  return {
    wallSeconds,
    cpuSeconds: Number(microseconds) / 1e6,
    peakMegabytes: Number(kilobytes) / 1024,
    stdout,
  };
}
