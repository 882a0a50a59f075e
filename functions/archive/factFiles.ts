import { factFile, factFileName, identityOf } from '../../lib/archive/factFile.ts';
import { type ArchivedFact, factRows } from '../../lib/archive/factRow.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { digestOf } from './digest.ts';

/** Writes facts of one partition as a file of its folder, and returns its path. Facts written again overwrite it. */
export async function putFactFile(
  files: ArchiveFiles,
  folder: string,
  facts: Iterable<ArchivedFact>,
): Promise<string> {
  const rows = factRows(facts);
  const path = `${folder}${factFileName(rows, digestOf(identityOf(rows)))}`;
  await files.put(path, factFile(rows));
  return path;
}
