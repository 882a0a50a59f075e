import { json, type LocalService, localService, ServiceException } from './server.ts';

export const BROKER = 'a3qj468EXAMPLE-ats.iot.us-west-2.amazonaws.com';

/** The ARN of a certificate. */
export function arnOf(certificateId: string): string {
  return `arn:aws:iot:us-west-2:123456789012:cert/${certificateId}`;
}

export interface LocalIot extends LocalService {
  /** Principals by thing. */
  readonly things: Map<string, readonly string[]>;
  /** By certificate. */
  readonly status: Map<string, string>;
  /** How often what is asked fails, by method and path. */
  readonly failing: Map<string, number>;
  /** Methods and paths, as they were asked for. */
  readonly asked: string[];
  /** A thing with certificates that work, and a principal that is none. */
  put(thing: string, ...certificateIds: string[]): void;
}

/**
 * As much of AWS IoT Core as we ask of it, after the API Reference's pages of ListThingPrincipals, UpdateCertificate,
 * DetachThingPrincipal and DescribeEndpoint. Pages have one principal each.
 */
export async function localIot(): Promise<LocalIot> {
  const things = new Map<string, readonly string[]>();
  const status = new Map<string, string>();
  const failing = new Map<string, number>();
  const asked: string[] = [];

  const service = await localService(({ method, path, headers }) => {
    const { pathname, searchParams } = new URL(path, 'http://iot.local');
    const parts = pathname.split('/').map(decodeURIComponent);
    const name = `${method} ${parts.join('/')}`;
    asked.push(name);
    const fails = failing.get(name) ?? 0;
    if (fails > 0) {
      failing.set(name, fails - 1);
      throw new ServiceException('ThrottlingException', 'Rate exceeded');
    }
    const [, kind, id = ''] = parts;
    if (kind === 'endpoint') return json({ endpointAddress: BROKER });
    if (kind === 'certificates') {
      if (!status.has(id)) throw new ServiceException('ResourceNotFoundException', 'no certificate', 404);
      status.set(id, searchParams.get('newStatus') ?? '');
      return json({});
    }
    const principals = things.get(id);
    if (!principals) throw new ServiceException('ResourceNotFoundException', 'no thing', 404);
    if (method === 'DELETE') {
      const detached = headers['x-amzn-principal'];
      things.set(
        id,
        principals.filter((each) => each !== detached),
      );
      return json({});
    }
    const at = Number(searchParams.get('nextToken') ?? 0);
    return json({
      principals: principals.slice(at, at + 1),
      ...(at + 1 < principals.length && { nextToken: String(at + 1) }),
    });
  });
  return {
    ...service,
    ...{ things, status, failing, asked },
    put(thing, ...certificateIds) {
      things.set(thing, ['us-west-2:a-cognito-identity', ...certificateIds.map(arnOf)]);
      for (const id of certificateIds) status.set(id, 'ACTIVE');
    },
  };
}
