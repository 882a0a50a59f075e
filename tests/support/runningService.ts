import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { startService } from '../../infra/local/service.ts';
import { noLog } from './pipeline.ts';

/** The whole service on free ports and a folder of its own, with one company in it. */
export async function runningService(companyId: string) {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-running-'));
  const service = await startService({
    ...{ dataDir: folder, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: noLog },
  });
  const call = async (
    key: string,
    method: string,
    path: string,
    body?: string,
    type = 'application/json',
  ) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': type };
    const response = await fetch(service.url + path, {
      method,
      headers,
      ...(body !== undefined && { body }),
    });
    expect(response.ok, `${method} ${path}: ${response.status}`).toBe(true);
    return response.text();
  };
  const company = JSON.stringify({ companyId, name: companyId });
  const { key } = JSON.parse(await call(service.operatorKey, 'POST', '/v1/companies', company));
  const empty = { messages: 0, dead: 0 };
  return {
    url: service.url,
    mqttUrl: service.mqttUrl,
    /** The company's key. */
    key: key as string,
    store: service.ports.store,
    /** Asks with the company's key. */
    ask: (method: string, path: string, body?: string, type?: string) => call(key, method, path, body, type),
    get: (path: string) => call(key, 'GET', path),
    /** Waits until nothing is under way any more but what is gathered for the archive. */
    async settled() {
      const left = async () => JSON.parse(await call(key, 'GET', '/health')).queues;
      await expect
        .poll(left, { timeout: 200_000, interval: 100 })
        .toMatchObject({ ingest: empty, assess: empty, notify: empty });
    },
    async stop() {
      await service.stop();
      await rm(folder, { recursive: true });
    },
  };
}
