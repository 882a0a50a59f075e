import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';

/**
 * Takes webhooks in on this machine and counts them.
 *
 * @param hear is given the body of each, once it is all there
 */
export async function startReceiver(hear: (body: string) => void = () => {}) {
  let told = 0;
  const server = createServer(async (request, response) => {
    told += 1;
    hear(await text(request));
    response.statusCode = 204;
    response.end();
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
  const channel = {
    type: 'webhook',
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/`,
    secret: 'of-the-drill-alone',
  };
  return {
    channel,
    told: () => told,
    stop: () => new Promise<void>((resolve) => server.close(() => resolve())),
  };
}
