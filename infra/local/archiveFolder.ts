import { randomUUID } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { dirname, join, relative, sep } from 'node:path';
import type { ArchiveFile, ArchiveFiles } from '../../lib/archive/files.ts';

/** What files are called until they are whole: none of ours ends so. */
const UNFINISHED = '.unfinished';

/** The archive as files of a folder. Each is put in place whole, once it is on the disk. */
export function archiveFolder(folder: string): ArchiveFiles {
  return {
    async put(path, content) {
      const place = join(folder, path);
      await mkdir(dirname(place), { recursive: true });
      // Two may put the same at once.
      const unfinished = `${place}.${randomUUID()}${UNFINISHED}`;
      const file = await open(unfinished, 'wx');
      try {
        await file.writeFile(content);
        await file.sync();
      } finally {
        await file.close();
      }
      await rename(unfinished, place);
    },
    async list(prefix) {
      // No further than the folder that the prefix leads into: those beside it may have very many.
      const within = prefix.slice(0, prefix.lastIndexOf('/') + 1);
      const paths = await filesIn(join(folder, within));
      return paths
        .map((path) => relative(folder, path).split(sep).join('/'))
        .filter((path) => path.startsWith(prefix) && !path.endsWith(UNFINISHED))
        .sort();
    },
    async open(path) {
      const place = join(folder, path);
      const { size } = await stat(place);
      return fileAt(place, size);
    },
    async drop(paths) {
      await Promise.all(paths.map((path) => rm(join(folder, path), { force: true })));
    },
  };
}

async function filesIn(folder: string): Promise<string[]> {
  try {
    const entries = await readdir(folder, { recursive: true, withFileTypes: true });
    return entries.filter((entry) => entry.isFile()).map(({ parentPath, name }) => join(parentPath, name));
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    throw error;
  }
}

function fileAt(place: string, byteLength: number): ArchiveFile {
  return {
    byteLength,
    async slice(start, end = byteLength) {
      const wanted = new Uint8Array(Math.max(0, Math.min(end, byteLength) - start));
      const file = await open(place);
      try {
        await file.read(wanted, 0, wanted.length, start);
      } finally {
        await file.close();
      }
      return wanted.buffer;
    },
  };
}
