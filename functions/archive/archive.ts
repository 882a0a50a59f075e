import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import { type ArchivedFact, toArchived } from '../../lib/archive/factRow.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { folderOf, monthFiledUnder } from '../../lib/archive/partition.ts';
import { atOnce } from '../atOnce.ts';
import { Failures } from '../failures.ts';
import { groupBy } from '../groupBy.ts';
import { readStored } from '../plainMessages.ts';
import type { Ports } from '../ports.ts';
import { putFactFile } from './factFiles.ts';

/** Files that are written at a time. */
const FILES_AT_ONCE = 4;

interface Filed {
  readonly messageId: string;
  readonly folder: string;
  readonly fact: ArchivedFact;
}

/**
 * The function `archive`: writes the facts of a batch as Parquet, a file for each company, region and month. A message is
 * done when all of its facts are written; one that comes back has them written again, which changes nothing for readers.
 */
export function archive(
  files: ArchiveFiles,
  { log }: Pick<Ports, 'log'>,
): (event: SQSEvent) => Promise<SQSBatchResponse> {
  return async ({ Records }) => {
    const failures = new Failures(log);
    const filed = Records.flatMap(
      ({ messageId, body }) => failures.guard([messageId], () => factsOf(messageId, body)) ?? [],
    );
    const byFolder = groupBy(filed, ({ folder }) => folder);
    await atOnce(FILES_AT_ONCE, [...byFolder], ([folder, inFolder]) =>
      failures.guardAll(
        inFolder.map(({ messageId }) => messageId),
        () =>
          putFactFile(
            files,
            folder,
            inFolder.map(({ fact }) => fact),
          ),
      ),
    );
    return failures.response();
  };
}

function factsOf(messageId: string, body: string): Filed[] {
  const { companyId, units } = readStored(body);
  return units.flatMap(({ unitId, region, timeZone, lines }) =>
    lines.map((line) => {
      const fact = toArchived(unitId, timeZone, line);
      const month = monthFiledUnder(fact.localDate);
      return { messageId, folder: folderOf('facts', { companyId, region, month }), fact };
    }),
  );
}
