import { once } from 'node:events';
import type { AddressInfo } from 'node:net';
import { createAdaptorServer } from '@hono/node-server';

/** How long requests under way may take when the server closes, milliseconds. */
const GRACE_MS = 5_000;

export type Fetch = (request: Request, env?: object) => Response | Promise<Response>;

export interface HttpServer {
  readonly port: number;
  /** Takes no more requests, and ends once those under way are answered, or have taken too long. */
  close(): Promise<void>;
}

/** Serves over HTTP; port 0 for any that is free. */
export async function startHttp(
  fetch: Fetch,
  { host, port }: { host: string; port: number },
): Promise<HttpServer> {
  const server = createAdaptorServer({ fetch });
  server.listen(port, host);
  await once(server, 'listening');
  return {
    port: (server.address() as AddressInfo).port,
    close: async () => {
      const closed = new Promise<void>((resolve) => server.close(() => resolve()));
      if ('closeAllConnections' in server) {
        const timer = setTimeout(() => server.closeAllConnections(), GRACE_MS);
        await closed;
        clearTimeout(timer);
      }
      await closed;
    },
  };
}
