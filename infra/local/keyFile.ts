import { link, readFile, rm, writeFile } from 'node:fs/promises';
import { newSecret } from '../../functions/secrets.ts';

/**
 * The secret of the key, `{name}.{secret}`, in a file that only its owner may read. The file is made with a new secret
 * unless it is there.
 */
export async function secretIn(path: string, name: string): Promise<string> {
  // Put in place whole: a kill must not leave an empty secret.
  const unfinished = `${path}.${process.pid}`;
  await writeFile(unfinished, `${name}.${newSecret()}\n`, { mode: 0o600 });
  try {
    await link(unfinished, path);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'EEXIST')) throw error;
  } finally {
    await rm(unfinished);
  }
  const key = (await readFile(path, 'utf8')).trim();
  return key.slice(key.lastIndexOf('.') + 1);
}
