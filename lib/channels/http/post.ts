import { request as plain } from 'node:http';
import { request as secure } from 'node:https';
import type { AddressGuard } from './addressGuard.ts';

export interface PostRequest {
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string;
  readonly guard: AddressGuard;
  readonly withinMs: number;
}

/** As much of an answer as says whether the other side has taken what was sent. */
export interface PostAnswer {
  readonly status: number;
  readonly retryAfter: string | undefined;
}

/** Posts once. Follows no redirect, and reads nothing of the answer but its head. */
export async function post(url: URL, { headers, body, guard, withinMs }: PostRequest): Promise<PostAnswer> {
  guard.check(url.hostname);
  const options = {
    method: 'POST',
    headers: { ...headers, 'content-length': String(Buffer.byteLength(body)) },
    // Connections are not kept: one that was frozen with its process looks alive and is not.
    agent: false,
    lookup: guard.lookup,
    signal: AbortSignal.timeout(withinMs),
  } as const;
  return new Promise((resolve, reject) => {
    const request = (url.protocol === 'https:' ? secure : plain)(url, options, (response) => {
      resolve({ status: response.statusCode ?? 0, retryAfter: response.headers['retry-after'] });
      response.destroy();
    });
    request.on('error', reject);
    request.end(body);
  });
}
