import { ClassicLevel } from 'classic-level';
import { QUEUES, type QueueName } from '../topology.ts';
import { GroupCommit } from './groupCommit.ts';
import { LocalQueue, type QueueOptions } from './queue.ts';

/** The queues between the functions, in one database, so that what goes to several of them is flushed together. */
export interface Queues extends Readonly<Record<QueueName, LocalQueue>> {
  /** Hands nothing out any more. */
  stop(): void;
  /** Closes the database; nothing can be sent or settled any more. */
  close(): Promise<void>;
}

/**
 * Lines that are judged together here. One process judges all of a fleet, so a second's lines have several of each unit,
 * which are then written, and taken into its state, together; in the cloud the lines are spread over many.
 */
const MOST_LINES = 300;

/** Opens the queues in a folder. Fails with the code `LEVEL_LOCKED` in its cause if another process has them open. */
export async function openQueues(
  folder: string,
  options: Omit<QueueOptions, 'database' | 'commit'>,
): Promise<Queues> {
  const database = new ClassicLevel(folder);
  await database.open();
  const all = { ...options, database, commit: new GroupCommit(database) };
  const [ingest, assess, notify, archive] = await Promise.all([
    LocalQueue.open('ingest', { ...QUEUES.ingest, batchSize: MOST_LINES }, all),
    LocalQueue.open('assess', QUEUES.assess, all),
    LocalQueue.open('notify', QUEUES.notify, all),
    LocalQueue.open('archive', QUEUES.archive, all),
  ]);
  const queues = { ingest, assess, notify, archive };
  const stop = () => {
    for (const queue of allOf(queues)) queue.close();
  };
  return { ...queues, stop, close: () => database.close() };
}

/** Every one of the queues. */
export function allOf({
  ingest,
  assess,
  notify,
  archive,
}: Readonly<Record<QueueName, LocalQueue>>): readonly LocalQueue[] {
  return [ingest, assess, notify, archive];
}
