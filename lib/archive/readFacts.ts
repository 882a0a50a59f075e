import { chunks } from '../../shared/chunks.ts';
import { compareText } from '../../shared/compareText.ts';
import { factsIn, type UnitRange } from './factFile.ts';
import type { ArchivedFact } from './factRow.ts';
import type { ArchiveFiles } from './files.ts';
import { partitionOf, tableFolder } from './partition.ts';

/** Files that are read at once: mostly one waits for the store. */
const AT_ONCE = 8;

/** All that the archive has of a unit. */
export interface UnitLines {
  readonly unitId: string;
  /** Its events as they were accepted, each with its `recordedtime`; copies and conflicts too, in no order. */
  readonly lines: readonly string[];
}

/**
 * Reads the archived events of a company's units, unit after unit by id. Of each file only the row groups that may have
 * such units are read; all that the range has is held until it is given out.
 *
 * @param range which units: the narrower, the less is held
 * @throws ArchiveError if a file is none of ours, and what `files` throws: a file that is merged meanwhile is there no
 * more, and then all of it is to be asked again
 */
export async function* readFacts(
  files: ArchiveFiles,
  companyId: string,
  range: UnitRange,
): AsyncGenerator<UnitLines> {
  const paths = (await files.list(tableFolder('facts', companyId))).filter((path) => partitionOf(path));
  const byUnit = new Map<string, Set<string>>();
  const add = ({ unitId, line }: ArchivedFact) => {
    const lines = byUnit.get(unitId);
    if (lines) lines.add(line);
    else byUnit.set(unitId, new Set([line]));
  };
  for (const some of chunks(paths, AT_ONCE)) {
    await Promise.all(
      some.map(async (path) => {
        for await (const facts of factsIn(await files.open(path), range)) facts.forEach(add);
      }),
    );
  }
  const units = [...byUnit].sort(([a], [b]) => compareText(a, b));
  for (const [unitId, lines] of units) yield { unitId, lines: [...lines] };
}
