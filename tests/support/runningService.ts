import { expect } from 'vitest';
import { companyService } from './companyService.ts';

/** The whole service on free ports and a folder of its own, with one company in it. */
export async function runningService(companyId: string) {
  const { service, key, ask, stop } = await companyService(companyId);
  const empty = { messages: 0, dead: 0 };
  return {
    url: service.url,
    mqttUrl: service.mqttUrl,
    /** The company's key. */
    key,
    store: service.ports.store,
    /** Asks with the company's key. */
    ask,
    get: (path: string) => ask('GET', path),
    /** Waits until nothing is under way any more but what is gathered for the archive. */
    async settled() {
      const left = async () => JSON.parse(await ask('GET', '/health')).queues;
      await expect
        .poll(left, { timeout: 200_000, interval: 100 })
        .toMatchObject({ ingest: empty, assess: empty, notify: empty });
    },
    stop,
  };
}
