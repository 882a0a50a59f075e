import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as z from 'zod';
import { startService } from '../../infra/local/service.ts';
import { noLog } from './pipeline.ts';

const keySchema = z.object({ key: z.string() });

/** The whole service on free ports and a folder of its own, with one company in it. */
export async function companyService(companyId: string) {
  const folder = await mkdtemp(join(tmpdir(), 'brinebell-service-'));
  const service = await startService({
    ...{ dataDir: folder, host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: noLog },
  });
  const askAs = async (
    key: string,
    method: string,
    path: string,
    body?: string,
    type = 'application/json',
  ) => {
    const headers = { authorization: `Bearer ${key}`, 'content-type': type };
    const response = await fetch(service.url + path, {
      ...{ method, headers },
      ...(body !== undefined && { body }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path}: ${response.status} ${text}`);
    return text;
  };
  const company = JSON.stringify({ companyId, name: companyId });
  const made = await askAs(service.operatorKey, 'POST', '/v1/companies', company);
  const { key } = keySchema.parse(JSON.parse(made));
  return {
    service,
    /** The company's key. */
    key,
    /** Asks with the company's key; what is refused throws. */
    ask: (method: string, path: string, body?: string, type?: string) => askAs(key, method, path, body, type),
    async stop() {
      await service.stop();
      await rm(folder, { recursive: true });
    },
  };
}
