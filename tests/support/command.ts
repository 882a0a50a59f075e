import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Summary, summarySchema } from '../../shared/summary.ts';

export const COMMAND = fileURLToPath(new URL('../../bin/brinebell.js', import.meta.url));
export const OUTPUTS = ['alerts.ndjson', 'forecasts.ndjson', 'salt.csv', 'rejected.ndjson', 'summary.json'];

interface Given {
  /** What is fed to standard input. */
  input?: string | Buffer;
  /** Options of node itself. */
  node?: string[];
}

/** Runs the command in a process of its own. */
export function brinebell(args: readonly string[], { input = '', node = [] }: Given = {}) {
  const { status, stdout, stderr } = spawnSync(process.execPath, [...node, COMMAND, ...args], {
    input,
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  return { status, stdout, stderr };
}

/** A folder of its own for a test file; `remove` it afterwards. */
export function scratch() {
  const path = mkdtempSync(join(tmpdir(), 'brinebell-test-'));
  let names = 0;
  return {
    path,
    /** Writes a file, and gives its path. */
    file(name: string, content: string | Buffer): string {
      const file = join(path, `${names++}-${name}`);
      writeFileSync(file, content);
      return file;
    },
    /** The path of a folder that is not there yet. */
    folder: () => join(path, `${names++}`),
    remove: () => rmSync(path, { recursive: true, force: true }),
  };
}

/** The outputs of a replay by name; what is not there is missing. */
export function outputsIn(folder: string): Record<string, string> {
  if (!existsSync(folder)) return {};
  return Object.fromEntries(
    readdirSync(folder).map((name) => [
      name,
      OUTPUTS.includes(name) ? readFileSync(join(folder, name), 'utf8') : '',
    ]),
  );
}

export function summaryIn(folder: string): Summary {
  return summarySchema.parse(JSON.parse(readFileSync(join(folder, 'summary.json'), 'utf8')));
}

/** The outputs of a replay without how long it took. */
export function timelessOutputsIn(folder: string): Record<string, string> {
  const { elapsedSeconds: _, eventsPerSecond: __, ...summary } = summaryIn(folder);
  return { ...outputsIn(folder), 'summary.json': JSON.stringify(summary) };
}

export function linesOf(text: string): string[] {
  return text.split('\n').filter((line) => line !== '');
}
