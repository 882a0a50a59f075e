import { createHash } from 'node:crypto';
import { factFile, factFileName, identityOf } from '../../lib/archive/factFile.ts';
import { type ArchivedFact, factRows } from '../../lib/archive/factRow.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';

/** Writes facts of one partition as a file of its folder, and returns its path. Facts written again overwrite it. */
export async function putFactFile(
  files: ArchiveFiles,
  folder: string,
  facts: Iterable<ArchivedFact>,
): Promise<string> {
  const rows = factRows(facts);
  const hash = createHash('sha256');
  for (const piece of identityOf(rows)) hash.update(piece);
  const path = `${folder}${factFileName(rows, hash.digest('hex').slice(0, 32))}`;
  await files.put(path, factFile(rows));
  return path;
}
