import { once } from 'node:events';
import { createRequire } from 'node:module';
import { Worker } from 'node:worker_threads';

/** Meters that are connected, in a thread of their own: in the world they take nothing of the service's process. */
export interface Meters {
  connect(
    unitId: string,
    credential: { readonly username: string; readonly password: string },
  ): Promise<void>;
  /** Has a meter publish lines one after another; done when the broker has acknowledged the last. */
  publish(unitId: string, lines: readonly string[]): Promise<void>;
  stop(): Promise<void>;
}

interface Answer {
  readonly number: number;
  readonly error?: string;
}

/** Runs in the thread; as text, since it is no file of its own in the bundle. */
const THREAD = `
  const { parentPort, workerData } = require('node:worker_threads');
  const mqtt = require(workerData.module);
  const meters = new Map();
  parentPort.on('message', async ({ number, unitId, credential, lines }) => {
    try {
      if (credential) meters.set(unitId, await mqtt.connectAsync(workerData.url, credential));
      const meter = meters.get(unitId);
      if (!meter) throw new Error(unitId + ' has no meter here');
      for (const line of lines) await meter.publishAsync('units/' + unitId + '/events', line, { qos: 1 });
      parentPort.postMessage({ number });
    } catch (error) {
      parentPort.postMessage({ number, error: String(error) });
    }
  });
`;

export function startMeters(url: string): Meters {
  const module = createRequire(import.meta.url).resolve('mqtt');
  const worker = new Worker(THREAD, { eval: true, workerData: { module, url } });
  const waiting = new Map<number, (answer: Answer) => void>();
  worker.on('message', (answer: Answer) => {
    waiting.get(answer.number)?.(answer);
    waiting.delete(answer.number);
  });
  let last = 0;
  const ask = async (request: object) => {
    last += 1;
    const number = last;
    const { error } = await new Promise<Answer>((resolve) => {
      waiting.set(number, resolve);
      worker.postMessage({ ...request, number });
    });
    if (error !== undefined) throw new Error(error);
  };
  return {
    connect: (unitId, credential) => ask({ unitId, credential, lines: [] }),
    publish: (unitId, lines) => ask({ unitId, lines }),
    async stop() {
      const ended = once(worker, 'exit');
      await worker.terminate();
      await ended;
    },
  };
}
