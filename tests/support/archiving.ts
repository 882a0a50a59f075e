import { archive } from '../../functions/archive/archive.ts';
import { type StoredLines, stored } from '../../functions/archive/stored.ts';
import type { StoredMessage } from '../../functions/messages.ts';
import type { ArchiveFiles } from '../../lib/archive/files.ts';
import { readFacts } from '../../lib/archive/readFacts.ts';
import { sqsEvent } from './lambda/events.ts';
import { noLog } from './pipeline.ts';

/** Every id lies between these. */
const ALL_UNITS = { from: '', to: '~' };

/** Messages for the queue `archive`, of lines of units. */
export function bodiesOf(lines: readonly StoredLines[]): string[] {
  return stored(lines).map(({ body }) => body);
}

/** Hands bodies of messages to the function `archive` at once; returns those that come back. */
export async function archiveOnce(files: ArchiveFiles, bodies: readonly string[]): Promise<string[]> {
  const event = sqsEvent(bodies.map((body, index) => ({ id: String(index), body })));
  const { batchItemFailures } = await archive(files, { log: noLog })(event);
  return batchItemFailures.map(({ itemIdentifier }) => bodies[Number(itemIdentifier)] ?? '');
}

/** As {@link archiveOnce}, of messages as they are sent, and none may come back. */
export async function archiveAll(files: ArchiveFiles, messages: readonly StoredMessage[]): Promise<void> {
  const failed = await archiveOnce(
    files,
    messages.map((message) => JSON.stringify(message)),
  );
  if (failed.length > 0) throw new Error(`${failed.length} messages came back`);
}

/** All that is archived of a company, by unit, in the order of the lines' own text. */
export async function archivedLines(
  files: ArchiveFiles,
  companyId: string,
  range = ALL_UNITS,
): Promise<Record<string, string[]>> {
  const byUnit: Record<string, string[]> = {};
  for await (const { unitId, lines } of readFacts(files, companyId, range))
    byUnit[unitId] = [...lines].sort();
  return byUnit;
}
