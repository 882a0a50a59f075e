import { afterEach, expect, test } from 'vitest';
import { type HttpServer, startHttp } from '../../../infra/local/httpServer.ts';
import { pagesAnd } from '../../../infra/local/pages.ts';
import type { Store } from '../../../lib/store/store.ts';
import { keyOf, live, service } from '../../functions/api/service.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { lines, records } from '../../support/smallFleet.ts';

const servers: HttpServer[] = [];
afterEach(async () => {
  for (const server of servers.splice(0)) await server.close();
});

test('a backup that breaks off half-way does not look whole, compressed or not', async () => {
  const whole = memoryStore();
  await live(whole, records, lines);
  let asked = 0;
  const store: Store = {
    ...whole,
    facts: async (unit, page) => {
      asked += 1;
      if (asked > 2) throw new Error('the table is gone');
      return whole.facts(unit, page);
    },
  };
  const made = service(store);
  const key = await keyOf(made, 'fenwick-water');
  const server = await startHttp(pagesAnd(made.app, { connect: [] }), { host: '127.0.0.1', port: 0 });
  servers.push(server);
  for (const encoding of ['identity', 'gzip']) {
    asked = 0;
    const headers = { authorization: `Bearer ${key}`, 'accept-encoding': encoding };
    const answer = fetch(`http://127.0.0.1:${server.port}/v1/backup/events.ndjson`, { headers });
    await expect(answer.then((response) => response.text())).rejects.toThrow();
  }
});
