import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';

/** One request, as it came over the wire. */
export interface Call {
  readonly method: string;
  /** With its query. */
  readonly path: string;
  readonly headers: IncomingMessage['headers'];
  readonly body: Buffer;
}

export interface Reply {
  readonly status?: number;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string | Uint8Array;
}

export interface LocalService {
  readonly endpoint: string;
  close(): Promise<void>;
}

/** A service on this machine. What throws is answered as a fault of the caller, and so fails a test that looks at answers. */
export async function localService(answer: (call: Call) => Reply | Promise<Reply>): Promise<LocalService> {
  const server = createServer(async (request, response) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk);
    const { method = '', url = '', headers } = request;
    let reply: Reply;
    try {
      if (!/^AWS4-HMAC-SHA256 Credential=/.test(headers.authorization ?? ''))
        throw new Error('it is not signed');
      reply = await answer({ method, path: url, headers, body: Buffer.concat(chunks) });
    } catch (error) {
      reply = {
        status: 400,
        body: JSON.stringify({ __type: 'ValidationException', message: String(error) }),
      };
    }
    response.writeHead(reply.status ?? 200, reply.headers).end(reply.body);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return {
    endpoint: `http://127.0.0.1:${port}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
