import { type Merger, mergersOf } from '../../lib/archive/compaction.ts';
import { factsIn } from '../../lib/archive/factFile.ts';
import type { ArchivedFact } from '../../lib/archive/factRow.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import type { Ports } from '../ports.ts';
import { putFactFile } from './factFiles.ts';

/**
 * The function `compact`: merges the small files of each partition into few, with exact duplicates once. It reads and
 * writes nothing of partitions that are in one piece; of them it only lists the names. Ended between two steps, it leaves
 * rows twice, never none, and the next run takes the copies off. Merging that fails holds up no other; then it throws at
 * the end.
 */
export function compact(files: ArchiveFiles, { log }: Pick<Ports, 'log'>): () => Promise<void> {
  return async () => {
    const failures: unknown[] = [];
    const mergers = mergersOf(await files.list('facts/'));
    for (const merger of mergers) {
      try {
        await merge(files, merger);
      } catch (error) {
        log.error('files could not be merged', { folder: merger.folder, error: String(error) });
        failures.push(error);
      }
    }
    log.info('the archive is compact', { merged: mergers.length - failures.length });
    if (failures.length > 0) throw new AggregateError(failures, `${failures.length} mergers failed`);
  };
}

async function merge(files: ArchiveFiles, { folder, paths }: Merger): Promise<void> {
  const facts: ArchivedFact[] = [];
  for (const path of paths) {
    for await (const some of factsIn(await files.open(path))) facts.push(...some);
  }
  const merged = await putFactFile(files, folder, facts);
  // One of them may have had all rows, and so the very name.
  await files.drop(paths.filter((path) => path !== merged));
}
