import { rowsIn } from './factFile.ts';
import { partitionOf } from './partition.ts';

/** A file of so many rows is left alone: merging them further would cost more than it saves whoever reads them. */
const FULL_ROWS = 50_000;

/** Files of one partition that are to become one. */
export interface Merger {
  /** The folder that they are in, with `/` at its end. */
  readonly folder: string;
  readonly paths: readonly string[];
}

/**
 * Which files are to be merged, by their names alone: the small ones of each partition, in stretches of up to about
 * twice 50,000 rows; none where a partition has but one. The partitions that are in most pieces come first, so that
 * who runs out of time has done the most.
 *
 * @param paths all files of facts, in their order
 */
export function mergersOf(paths: readonly string[]): Merger[] {
  const stretches: { folder: string; paths: string[]; rows: number }[] = [];
  for (const path of paths) {
    const rows = rowsIn(path);
    if (rows === undefined || rows >= FULL_ROWS || partitionOf(path)?.table !== 'facts') continue;
    const folder = path.slice(0, path.lastIndexOf('/') + 1);
    const last = stretches.at(-1);
    if (last && last.folder === folder && last.rows < FULL_ROWS) {
      last.paths.push(path);
      last.rows += rows;
    } else {
      stretches.push({ folder, paths: [path], rows });
    }
  }
  return stretches
    .filter((stretch) => stretch.paths.length > 1)
    .sort((a, b) => b.paths.length - a.paths.length)
    .map(({ folder, paths: merged }) => ({ folder, paths: merged }));
}
