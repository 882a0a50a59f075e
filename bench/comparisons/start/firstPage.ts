import { spawn } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** It is there in seconds, however busy the machine is. */
const MOST_MS = 60_000;

/** Starts the service of this machine in an empty folder, and says after how many seconds its first page came; within a minute, or it throws. */
export async function firstPage(): Promise<number> {
  const dataDir = await mkdtemp(join(tmpdir(), 'brinebell-first-page-'));
  const began = performance.now();
  const args = ['bin/start.js', '--data', dataDir, '--port', '0', '--mqtt-port', '0'];
  const child = spawn(process.execPath, args, { stdio: ['ignore', 'ignore', 'pipe'] });
  const ended = new Promise<void>((resolve) => child.once('exit', () => resolve()));
  const late = setTimeout(() => child.kill('SIGKILL'), MOST_MS);
  try {
    const response = await fetch(await addressIn(child.stderr), {
      headers: { accept: 'text/html' },
      signal: AbortSignal.timeout(MOST_MS),
    });
    await response.arrayBuffer();
    if (!response.ok) throw new Error(`the first page is refused: ${response.status}`);
    return (performance.now() - began) / 1000;
  } finally {
    child.kill();
    await ended;
    clearTimeout(late);
    await rm(dataDir, { recursive: true });
  }
}

/** The first address that it says, which is that of the console. */
function addressIn(output: NodeJS.ReadableStream): Promise<string> {
  let said = '';
  return new Promise((resolve, reject) => {
    output.on('data', (text: Buffer) => {
      said += text;
      const [address] = /http:\/\/[\w.:[\]-]+\d/.exec(said) ?? [];
      if (address !== undefined) resolve(address);
    });
    output.on('end', () => reject(new Error(`the service ended, and said: ${said}`)));
  });
}
