import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { openArchive } from '../../bin/sql/archiveDatabase.ts';
import { ask, type Cell } from '../../bin/sql/query.ts';
import { archiveFolder } from '../../infra/local/archiveFolder.ts';

/** An archive in a folder of its own, to be asked in SQL; `remove` it afterwards. */
export async function sqlArchive(name = 'archive') {
  const above = await mkdtemp(join(tmpdir(), 'brinebell-sql-test-'));
  const folder = join(above, name);
  return {
    folder,
    files: archiveFolder(folder),
    /** The rows of a query as objects. */
    async query(sql: string): Promise<Record<string, Cell>[]> {
      const database = await openArchive(folder);
      try {
        const { names, rows } = await ask(database.connection, sql);
        const all: Record<string, Cell>[] = [];
        for await (const some of rows) {
          for (const row of some)
            all.push(Object.fromEntries(names.map((each, at) => [each, row[at] ?? null])));
        }
        return all;
      } finally {
        await database.close();
      }
    },
    remove: () => rm(above, { recursive: true }),
  };
}
