import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { keyOf } from './points.ts';
import type { Told } from './roll.ts';

/** What a script of R told: quantiles by family, and microseconds of CPU a forecast took. */
export interface FromR {
  readonly told: ReadonlyMap<string, Told>;
  readonly costs: readonly Cost[];
}

export interface Cost {
  readonly family: string;
  readonly days: number;
  readonly how: string;
  readonly microseconds: number;
}

const COMMAND = 'Rscript';
/** Exit status of a script of which a package is missing: see points.R. */
const NOT_INSTALLED = 3;

/**
 * Runs `ets.R` or `forest.R` on a file of points; the results stay in `out` as well.
 *
 * @param more what else the script takes
 * @returns what is missing, in words, where R or a package is
 * @throws Error where the script fails
 */
export async function runR(
  script: 'ets' | 'forest',
  points: string,
  out: string,
  ...more: readonly string[]
): Promise<FromR | string> {
  const path = fileURLToPath(new URL(`../../bench/forecasts/${script}.R`, import.meta.url));
  const quantiles = join(out, `${script}.csv`);
  const costs = join(out, `${script}-costs.csv`);
  let said = '';
  const status = await new Promise<number | string>((resolve) => {
    const child = spawn(COMMAND, [path, points, quantiles, costs, ...more], {
      stdio: ['ignore', 'inherit', 'pipe'],
    });
    child.stderr.on('data', (text: Buffer) => {
      said += text;
      process.stderr.write(text);
    });
    child.on('error', ({ message }) => resolve(message));
    child.on('close', (code) => resolve(code ?? 'it was killed'));
  });
  if (typeof status === 'string' && status.includes('ENOENT')) {
    return "Rscript is not there: install Debian's r-base-core, r-cran-forecast and r-cran-ranger.";
  }
  if (status === NOT_INSTALLED) return said.trim().split('\n').at(-1) ?? '';
  if (status !== 0) throw new Error(`${script}.R failed (${status}): see above.`);
  return { told: readQuantiles(quantiles), costs: readRows(costs).map(costOf) };
}

function readQuantiles(path: string): Map<string, Map<string, readonly number[]>> {
  const families = new Map<string, Map<string, readonly number[]>>();
  for (const [family = '', home, date = '', days, ...quantiles] of readRows(path)) {
    const told = families.get(family) ?? new Map<string, readonly number[]>();
    families.set(family, told.set(keyOf(Number(home), date, Number(days)), quantiles.map(Number)));
  }
  return families;
}

function costOf([family = '', days, how = '', microseconds]: readonly string[]): Cost {
  return { family, days: Number(days), how, microseconds: Number(microseconds) };
}

function readRows(path: string): string[][] {
  const [, ...rows] = readFileSync(path, 'utf8').trim().split('\n');
  return rows.map((row) => row.split(','));
}
