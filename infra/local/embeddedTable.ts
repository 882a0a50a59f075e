import { once } from 'node:events';
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';
import type { DynamoDBClientConfig } from '@aws-sdk/client-dynamodb';

/** Where an embedded table answers. */
export interface EmbeddedTable {
  /** For other processes of this machine. */
  readonly endpoint: string;
  /** For a client in this process, which then asks the thread itself: that takes a third of the time. */
  readonly within: Pick<DynamoDBClientConfig, 'requestHandler' | 'signer'>;
  close(): Promise<void>;
}

/** What the thread is asked and what it answers; HTTP without its form. */
type Asked = readonly [number: number, headers: Readonly<Record<string, string>>, body: string];
type Answered = readonly [number: number, statusCode: number, body: string];

/** Runs in the thread; as text, since it is no file of its own, neither among the sources nor in the bundle. */
const THREAD = `
  const { EventEmitter } = require('node:events');
  const { parentPort, workerData } = require('node:worker_threads');
  const server = require(workerData.module)({ path: workerData.folder, createTableMs: 0 });
  server.listen(0, '127.0.0.1', () => parentPort.postMessage(server.address().port));
  parentPort.on('message', (asked) => {
    if (asked === 'close') {
      server.close((error) => {
        if (error) throw error;
        parentPort.close();
      });
      server.closeAllConnections();
      return;
    }
    const [number, headers, body] = asked;
    const request = Object.assign(new EventEmitter(), { method: 'POST', url: '/', headers });
    const response = {
      setHeader() {},
      end(text) { parentPort.postMessage([number, response.statusCode, text]); },
    };
    server.emit('request', request, response);
    request.emit('data', body);
    request.emit('end');
  });
`;

/** It asks for a signature and believes any. */
const SIGNED = {
  authorization: 'AWS4-HMAC-SHA256 Credential=local, SignedHeaders=host, Signature=none',
  'x-amz-date': '20000101T000000Z',
};

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
    within: withinThread(worker),
    close: async () => {
      const ended = once(worker, 'exit');
      worker.postMessage('close');
      await ended;
    },
  };
}

/** The end of a client that sends, by the port of the thread where others have a socket. */
function withinThread(worker: Worker): EmbeddedTable['within'] {
  const waiting = new Map<number, { answered(answer: Answered): void; failed(error: Error): void }>();
  const utf8 = new TextDecoder();
  let last = 0;
  worker.on('message', (answer: Answered) => {
    waiting.get(answer[0])?.answered(answer);
    waiting.delete(answer[0]);
  });
  worker.on('exit', () => {
    for (const { failed } of waiting.values()) failed(new Error('the embedded table has ended'));
    waiting.clear();
  });
  return {
    signer: { sign: async (request) => request },
    requestHandler: {
      async handle({ headers, body }: { headers: Readonly<Record<string, string>>; body: Uint8Array }) {
        last += 1;
        const asked: Asked = [last, { ...headers, ...SIGNED }, utf8.decode(body)];
        const [, statusCode, text] = await new Promise<Answered>((answered, failed) => {
          waiting.set(last, { answered, failed });
          worker.postMessage(asked);
        });
        return { response: { statusCode, headers: {}, body: Buffer.from(text) } };
      },
    },
  };
}
