// `npm run teardown -- --context stage=small`: takes a deployment down, and says first what it keeps.
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline/promises';
import { fileURLToPath } from 'node:url';
import { bundled } from './bundled.js';

const root = fileURLToPath(new URL('../..', import.meta.url));
const cdkPath = fileURLToPath(import.meta.resolve('aws-cdk/bin/cdk'));
const { teardown } = await import(await bundled('infra/aws/teardown.ts'));
const folder = mkdtempSync(join(tmpdir(), 'brinebell-teardown-'));

process.exitCode = await teardown(process.argv.slice(2), {
  /** @param {string[]} args */
  async cdk(args) {
    const child = spawn(process.execPath, [cdkPath, ...args], { cwd: root, stdio: 'inherit' });
    const [status] = await once(child, 'exit');
    return status ?? 1;
  },
  say: console.log,
  /** @param {string} question */
  async ask(question) {
    if (!process.stdin.isTTY) return undefined;
    const lines = createInterface({ input: process.stdin, output: process.stdout });
    return lines.question(question).finally(() => lines.close());
  },
  folder,
}).finally(() => rmSync(folder, { recursive: true, force: true }));
