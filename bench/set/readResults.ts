import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Result, resultSchema } from './result.ts';

/** The results that a folder holds, of the comparisons named and in their order; one that never ran is left out. */
export function readResults(folder: string, names: readonly string[]): Result[] {
  return names
    .map((name) => join(folder, `${name}.json`))
    .filter((path) => existsSync(path))
    .map((path) => resultSchema.parse(JSON.parse(readFileSync(path, 'utf8'))));
}
