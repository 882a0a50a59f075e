import { archive } from '../../../functions/archive/archive.ts';
import { assess } from '../../../functions/assess.ts';
import { ingest } from '../../../functions/ingest.ts';
import type { Outgoing, Ports } from '../../../functions/ports.ts';
import { received } from '../../../functions/send.ts';
import type { ArchiveFiles } from '../../../lib/archive/files.ts';
import { chunks } from '../../../shared/chunks.ts';
import type { Instant } from '../../../shared/time/instant.ts';
import { contextOf, failedIds, recordOf } from '../lambdaShape.ts';
import type { QueueHandler } from '../worker.ts';
import type { DemoUnit } from './demoUnit.ts';
import { remembering } from './remembering.ts';

/** Lines that are taken in together, and units at a time. */
const LINES_A_BATCH = 500;
const AT_ONCE = 6;
/** Messages that are archived together, each of up to some 250 lines: a few thousand lines, so that files are few. */
const ARCHIVED_TOGETHER = 20;
const TIMEOUT_SECONDS = 600;

/**
 * Lets the units tell their history up to an instant, through the functions by which every event goes, but without the
 * queues between them and without telling anybody of alerts that are long over. Ends after the units under way where
 * `signal` says so, and throws then.
 */
export async function tellHistory(
  ports: Ports,
  units: readonly DemoUnit[],
  until: Instant,
  { files, onUnit, signal }: { files: ArchiveFiles; onUnit: () => void; signal: AbortSignal },
): Promise<void> {
  const waiting = [...units];
  const stored: Outgoing[] = [];
  const toArchive = { send: async (messages: readonly Outgoing[]) => void stored.push(...messages) };
  const archiving = archive(files, ports);
  const tell = async () => {
    const touched: Outgoing[] = [];
    const nowhere = { send: async () => {} };
    const toAssess = { send: async (messages: readonly Outgoing[]) => void touched.push(...messages) };
    const { store, forget } = remembering(ports.store);
    const own = {
      ...ports,
      store,
      queues: { ingest: nowhere, assess: toAssess, notify: nowhere, archive: toArchive },
    };
    const handlers = { ingest: ingest(own), assess: assess(own) };
    for (let unit = waiting.shift(); unit && !signal.aborted; unit = waiting.shift()) {
      const { companyId, unitId } = unit.record;
      const messages = unit
        .take(until)
        .map(({ recorded, text }) => received({ companyId, unitId, receivedAt: recorded, line: text }));
      for (const batch of chunks(messages, LINES_A_BATCH)) await invoke('ingest', handlers.ingest, batch);
      await invoke('assess', handlers.assess, touched.splice(0));
      if (stored.length >= ARCHIVED_TOGETHER) await invoke('archive', archiving, stored.splice(0));
      forget();
      onUnit();
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, tell));
  await invoke('archive', archiving, stored.splice(0));
  signal.throwIfAborted();
}

/** Hands messages to a function at once, and throws if it reports any as failed. */
async function invoke(name: string, handler: QueueHandler, messages: readonly Outgoing[]): Promise<void> {
  if (messages.length === 0) return;
  const Records = messages.map(({ body, group = '' }, index) =>
    recordOf(name, { id: String(index), body, group, sentAt: 0, receives: 1 }),
  );
  const response = await handler({ Records }, contextOf(name, `${name}-history`, TIMEOUT_SECONDS));
  const failed = failedIds(
    response,
    Records.map(({ messageId }) => messageId),
  );
  if (failed.length > 0) throw new Error(`${name} failed on ${failed.length} messages of the demonstration`);
}
