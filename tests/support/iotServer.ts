import { once } from 'node:events';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

export const BROKER = 'a3qj468EXAMPLE-ats.iot.us-west-2.amazonaws.com';

/** The ARN of a certificate. */
export function arnOf(certificateId: string): string {
  return `arn:aws:iot:us-west-2:123456789012:cert/${certificateId}`;
}

/**
 * As much of AWS IoT Core as we ask of it, after the API Reference's pages of ListThingPrincipals, UpdateCertificate,
 * DetachThingPrincipal and DescribeEndpoint. Pages have one principal each.
 */
export async function iotServer() {
  /** Principals of things. */
  const things = new Map<string, string[]>();
  /** Of certificates. */
  const status = new Map<string, string>();
  /** How often what is asked fails, by method and path. */
  const failing = new Map<string, number>();
  const asked: string[] = [];

  const answer = (request: IncomingMessage, response: ServerResponse) => {
    const { method = '', url = '', headers } = request;
    const { pathname, searchParams } = new URL(url, 'http://x');
    const parts = pathname.split('/').map(decodeURIComponent);
    const name = `${method} ${parts.join('/')}`;
    asked.push(name);
    const json = (body: unknown, code = 200, type?: string) =>
      response
        .writeHead(code, { 'content-type': 'application/json', ...(type && { 'x-amzn-errortype': type }) })
        .end(JSON.stringify(body));
    const fails = failing.get(name) ?? 0;
    if (fails > 0) {
      failing.set(name, fails - 1);
      return json({ message: 'Rate exceeded' }, 400, 'ThrottlingException');
    }
    const [, kind, id = ''] = parts;
    if (kind === 'endpoint') return json({ endpointAddress: BROKER });
    if (kind === 'certificates') {
      if (!status.has(id)) return json({ message: 'no certificate' }, 404, 'ResourceNotFoundException');
      status.set(id, searchParams.get('newStatus') ?? '');
      return json({});
    }
    const principals = things.get(id);
    if (!principals) return json({ message: 'no thing' }, 404, 'ResourceNotFoundException');
    if (method === 'DELETE') {
      things.set(
        id,
        principals.filter((each) => each !== headers['x-amzn-principal']),
      );
      return json({});
    }
    const at = Number(searchParams.get('nextToken') ?? 0);
    return json({
      principals: principals.slice(at, at + 1),
      ...(at + 1 < principals.length && { nextToken: String(at + 1) }),
    });
  };

  const server = createServer(answer).listen(0, '127.0.0.1');
  await once(server, 'listening');
  return {
    ...{ things, status, failing, asked },
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    /** A thing with certificates that work, and a principal that is none. */
    put(thing: string, ...certificateIds: string[]) {
      things.set(thing, ['us-west-2:a-cognito-identity', ...certificateIds.map(arnOf)]);
      for (const id of certificateIds) status.set(id, 'ACTIVE');
    },
    close: () => server.close(),
  };
}
