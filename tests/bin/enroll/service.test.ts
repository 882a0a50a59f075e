import { once } from 'node:events';
import { createServer, type RequestListener, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, test } from 'vitest';
import * as z from 'zod';
import { RefusedError, Service } from '../../../bin/enroll/service.ts';

const servers: Server[] = [];

afterEach(() => {
  for (const server of servers.splice(0)) server.closeAllConnections();
});

/** A service that answers as it is told, one answer after another and then the last again. */
async function answering(...answers: readonly RequestListener[]) {
  const asked: { method: string; ifNoneMatch: string | undefined; key: string | undefined }[] = [];
  const server = createServer((request, response) => {
    const { method = '', headers } = request;
    asked.push({ method, ifNoneMatch: headers['if-none-match'], key: headers.authorization });
    answers[Math.min(asked.length, answers.length) - 1]?.(request, response);
  }).listen(0, '127.0.0.1');
  servers.push(server);
  await once(server, 'listening');
  const url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  return { asked, url, service: new Service(url, 'acme~1.secret') };
}

const status =
  (code: number, body: unknown = '', headers: Record<string, string> = {}): RequestListener =>
  (_, response) =>
    response.writeHead(code, headers).end(typeof body === 'string' ? body : JSON.stringify(body));
const hangUp: RequestListener = (request) => request.socket.destroy();
const problem = (code: number, type: string) => status(code, { type, title: 'No', detail: 'Do so' });
const POST = { method: 'POST', path: '/x', onlyIfNone: true } as const;
const schema = z.object({ done: z.literal(true) });
const soon = { 'retry-after': '0' };

test('a service that is busy or breaks off is asked again, and told but once to do it only where it was not', async () => {
  const { service, asked } = await answering(
    ...[
      status(429, '', soon),
      status(503, '', soon),
      hangUp,
      status(502, '', soon),
      status(201, { done: true }),
    ],
  );
  expect(await service.ask(POST, schema)).toEqual({ done: true });
  expect(asked.map(({ ifNoneMatch }) => ifNoneMatch)).toEqual(['*', ...Array(4).fill(undefined)]);
  expect(new Set(asked.map(({ key }) => key))).toEqual(new Set(['Bearer acme~1.secret']));
});

test('a service that stays away is given up, with what it said', async () => {
  const { service, asked } = await answering(status(503, '', soon));
  await expect(service.ask({ ...POST, tries: 3 }, schema)).rejects.toMatchObject({
    ...{ code: 'service-unreachable', message: expect.stringMatching(/503/) },
    ...{ advice: expect.stringMatching(/do the same again/) },
  });
  expect(asked).toHaveLength(3);
});

test('what it refuses about one unit is that unit’s, and is not asked for again', async () => {
  const { service, asked } = await answering(problem(404, '/problems/unit-unknown'));
  const refused = await service.ask(POST, schema).catch((error) => error);
  expect(refused).toBeInstanceOf(RefusedError);
  expect(refused).toMatchObject({ type: '/problems/unit-unknown', message: 'No: Do so' });
  expect(asked).toHaveLength(1);
});

test.each([
  ['a key that is wrong', problem(401, '/problems/key-wrong'), 'key-refused'],
  ['the key of a meter', problem(403, '/problems/key-not-for-this'), 'key-refused'],
  ['another service', status(200, '<html>'), 'service-unreachable'],
  ['another service’s error', status(404, 'Not found'), 'service-unreachable'],
  ['a way to elsewhere', status(302, '', { location: 'http://127.0.0.1:1/' }), 'service-unreachable'],
])('%s ends it all', async (_, answer, code) => {
  const { service } = await answering(answer);
  await expect(service.ask({ ...POST, tries: 1 }, schema)).rejects.toMatchObject({ code });
});
