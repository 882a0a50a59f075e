import { mkdir, rename, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { ReportFiles } from '../../functions/report.ts';

/** Reports as files of a folder. Each is put in place whole. */
export function reportFolder(folder: string): ReportFiles {
  return {
    async put(name, text) {
      const path = join(folder, name);
      await mkdir(dirname(path), { recursive: true });
      await writeFile(`${path}.unfinished`, text);
      await rename(`${path}.unfinished`, path);
    },
  };
}
