import { once } from 'node:events';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';

/** Takes webhooks in on this machine and counts them. */
export async function startReceiver() {
  let told = 0;
  const server = createServer((request, response) => {
    told += 1;
    request.resume();
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
