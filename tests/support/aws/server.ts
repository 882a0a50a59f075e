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

/** Thrown by what stands in for a service where the service would answer with an exception of its own. */
export class ServiceException extends Error {
  readonly status: number;

  constructor(name: string, message: string, status = 400) {
    super(message);
    this.name = name;
    this.status = status;
  }
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
      reply = failureOf(error);
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

/**
 * A service of one of the JSON protocols of AWS, where a header names the action (Smithy, "AWS JSON 1.0" and "1.1").
 *
 * @param prefix of the names of actions in that header
 */
export function jsonService(
  prefix: string,
  actions: Readonly<Record<string, (input: unknown, headers: Call['headers']) => object>>,
): Promise<LocalService> {
  return localService(({ headers, body }) => {
    const target = String(headers['x-amz-target']);
    const action = target.startsWith(`${prefix}.`) ? actions[target.slice(prefix.length + 1)] : undefined;
    if (!action) throw new Error(`there is no ${target}`);
    return json(action(JSON.parse(body.toString()), headers));
  });
}

/** An answer in JSON. The SDK goes by what is in it, whichever of JSON's media types it has. */
export function json(body: object): Reply {
  return { headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) };
}

/** The name of the exception is in the body for JSON's protocols, and in a header for REST's. */
function failureOf(error: unknown): Reply {
  const { name, message, status } =
    error instanceof ServiceException ? error : new ServiceException('ValidationException', String(error));
  const { headers, body } = json({ __type: name, message });
  return { status, headers: { ...headers, 'x-amzn-errortype': name }, ...(body !== undefined && { body }) };
}
