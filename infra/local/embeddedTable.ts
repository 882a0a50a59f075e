import { once } from 'node:events';
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';

/** Where an embedded table answers. */
export interface EmbeddedTable {
  readonly endpoint: string;
  close(): Promise<void>;
}

/** Runs in the thread; as text, since it is no file of its own, neither among the sources nor in the bundle. */
const THREAD = `
  const { parentPort, workerData } = require('node:worker_threads');
  const server = require(workerData.module)({ path: workerData.folder, createTableMs: 0 });
  server.listen(0, '127.0.0.1', () => parentPort.postMessage(server.address().port));
  parentPort.once('message', () => {
    server.close((error) => {
      if (error) throw error;
      parentPort.close();
    });
    server.closeAllConnections();
  });
`;

/**
 * Starts a table that is kept in a folder and answers as DynamoDB does, on a port of this machine only. It has a thread
 * of its own, since it takes about as much work as all else. Should it fail, `onFailure` is told; it does not come back.
 */
export async function startEmbeddedTable(
  folder: string,
  onFailure: (error: Error) => void,
): Promise<EmbeddedTable> {
  const module = createRequire(import.meta.url).resolve('dynalite');
  const worker = new Worker(THREAD, { eval: true, workerData: { module, folder } });
  const [port] = await once(worker, 'message');
  worker.on('error', onFailure);
  return {
    endpoint: `http://127.0.0.1:${port}`,
    close: async () => {
      const ended = once(worker, 'exit');
      worker.postMessage('close');
      await ended;
    },
  };
}
