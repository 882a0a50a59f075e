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

/** Opens the queues in a folder. Fails with the code `LEVEL_LOCKED` in its cause if another process has them open. */
export async function openQueues(
  folder: string,
  options: Omit<QueueOptions, 'database' | 'commit'>,
): Promise<Queues> {
  const database = new ClassicLevel(folder);
  await database.open();
  const all = { ...options, database, commit: new GroupCommit(database) };
  const [ingest, assess, notify] = await Promise.all([
    LocalQueue.open('ingest', QUEUES.ingest, all),
    LocalQueue.open('assess', QUEUES.assess, all),
    LocalQueue.open('notify', QUEUES.notify, all),
  ]);
  const stop = () => {
    for (const queue of [ingest, assess, notify]) queue.close();
  };
  return { ingest, assess, notify, stop, close: () => database.close() };
}
