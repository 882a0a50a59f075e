import { createHash, randomBytes } from 'node:crypto';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import * as z from 'zod';
import { oidcIdentity } from '../../../functions/api/identity.ts';
import { discoverProvider } from '../../../infra/local/discover.ts';
import { type Service, startService } from '../../../infra/local/service.ts';
import { unitRecordSchema } from '../../../shared/registry.ts';
import { unitRecord } from '../../support/fleet.ts';

const quiet = { debug: () => {}, info: () => {}, warn: () => {}, error: console.error };
const COMPANY = 'lark-test';
const DANA = {
  personId: 'desk-1',
  mail: 'dana@lark.example',
  name: 'Dana Reyes',
  role: 'dispatcher' as const,
};

let dataDir: string;
let service: Service;

beforeAll(async () => {
  dataDir = await mkdtemp(join(tmpdir(), 'brinebell-signin-'));
  const consoleDir = join(dataDir, 'pages');
  await mkdir(join(consoleDir, 'assets'), { recursive: true });
  await writeFile(join(consoleDir, 'index.html'), '<!doctype html><title>console</title>');
  await writeFile(join(consoleDir, 'assets', 'x-1.js'), 'export {}');
  await writeFile(join(dataDir, 'secret.txt'), 'not for anybody');
  service = await startService({
    ...{ dataDir: join(dataDir, 'data'), host: '127.0.0.1', port: 0, mqttPort: 0, env: {}, log: quiet },
    ...{ consoleDir, signIn: { demoCompanyId: COMPANY } },
  });
  const { store } = service.ports;
  await store.putCompany({ companyId: COMPANY, name: 'Lark', channels: [], rules: {} });
  await store.putPerson(COMPANY, { ...DANA, units: 'us' });
  await store.putRecords(COMPANY, [
    unitRecordSchema().parse(
      unitRecord({ unitId: 'u-1', companyId: COMPANY, site: { name: '3 Mill Lane' } }),
    ),
  ]);
});

afterAll(async () => {
  await service.stop();
  await rm(dataDir, { recursive: true });
});

const discovery = z.object({
  issuer: z.string(),
  authorization_endpoint: z.string(),
  token_endpoint: z.string(),
});

/** Signs somebody in as a browser would, code and PKCE; `given` replaces what is sent for the token. */
async function signIn(mail: string, given: Record<string, string> = {}) {
  const { issuer, clientId } = z
    .object({ issuer: z.string(), clientId: z.string() })
    .parse(await (await fetch(`${service.url}/v1/sign-in`)).json());
  const provider = discovery.parse(await (await fetch(`${issuer}/.well-known/openid-configuration`)).json());
  const verifier = randomBytes(32).toString('base64url');
  const redirect = `${service.url}/signed-in`;
  const asked = {
    ...{ client_id: clientId, response_type: 'code', redirect_uri: redirect, scope: 'openid', state: 's-1' },
    ...{ code_challenge_method: 'S256', nonce: 'n-1' },
    code_challenge: createHash('sha256').update(verifier).digest('base64url'),
  };
  const page = await fetch(`${provider.authorization_endpoint}?${new URLSearchParams(asked)}`);
  expect(await page.text()).toContain(DANA.mail);
  const answer = await fetch(provider.authorization_endpoint, {
    method: 'POST',
    redirect: 'manual',
    body: new URLSearchParams({ ...asked, mail }),
  });
  const back = new URL(answer.headers.get('location') ?? '');
  expect(back.href.startsWith(`${redirect}?`)).toBe(true);
  expect(back.searchParams.get('state')).toBe('s-1');
  const code = back.searchParams.get('code') ?? '';
  const fetchToken = (over: Record<string, string> = {}) =>
    fetch(provider.token_endpoint, {
      method: 'POST',
      body: new URLSearchParams({
        ...{ grant_type: 'authorization_code', code, client_id: clientId, redirect_uri: redirect },
        code_verifier: verifier,
        ...over,
      }),
    });
  return { token: await fetchToken(given), again: fetchToken };
}

const tokens = z.object({ access_token: z.string(), id_token: z.string(), token_type: z.literal('Bearer') });

test('somebody of the demonstration signs in by code and PKCE, and a code is good once', async () => {
  const { token, again } = await signIn(DANA.mail);
  const { access_token: accessToken } = tokens.parse(await token.json());
  const me = await fetch(`${service.url}/v1/me`, { headers: { authorization: `Bearer ${accessToken}` } });
  expect(await me.json()).toMatchObject({ person: DANA, company: { companyId: COMPANY, name: 'Lark' } });
  expect((await again()).status).toBe(400);
  for (const given of [
    { code_verifier: 'guess' },
    { redirect_uri: 'https://else.example' },
    { client_id: 'x' },
  ])
    expect(await (await signIn(DANA.mail, given)).token.json()).toEqual({ error: 'invalid_grant' });
});

test('another service finds this provider by its address, and believes its tokens by the keys that it fetches', async () => {
  const { token } = await signIn(DANA.mail);
  const { access_token: accessToken } = tokens.parse(await token.json());
  const options = await discoverProvider(`${service.url}/issuer`, 'brinebell-console');
  expect(options).toMatchObject({ jwksUri: `${service.url}/issuer/keys`, tokenOrigin: service.url });
  expect(await oidcIdentity(options).mailOf(accessToken)).toBe(DANA.mail);
  expect(await oidcIdentity({ ...options, clientId: 'other' }).mailOf(accessToken)).toBeUndefined();
  const cut = `${accessToken.slice(0, -4)}AAAA`;
  expect(await oidcIdentity(options).mailOf(cut)).toBeUndefined();
  await expect(discoverProvider(service.url, 'x')).rejects.toMatchObject({ code: 'provider-unusable' });
  await expect(discoverProvider(`${service.url}/issuer/`, 'x')).rejects.toMatchObject({
    message: expect.stringContaining('it calls itself'),
  });
});

test('nobody is sent elsewhere, and nobody signs in as who is not there', async () => {
  const asked = {
    client_id: 'brinebell-console',
    response_type: 'code',
    code_challenge: 'x',
    code_challenge_method: 'S256',
  };
  const at = (over: Record<string, string>) =>
    fetch(`${service.url}/issuer/authorize?${new URLSearchParams({ ...asked, ...over })}`);
  expect((await at({ redirect_uri: `${service.url}/signed-in` })).status).toBe(200);
  for (const over of [
    { redirect_uri: 'https://else.example/' },
    { redirect_uri: `${service.url}.else.example/` },
    { redirect_uri: `${service.url}/`, client_id: 'other' },
    { redirect_uri: `${service.url}/`, code_challenge_method: 'plain' },
  ])
    expect((await at(over)).status).toBe(400);
  const answer = await fetch(`${service.url}/issuer/authorize`, {
    method: 'POST',
    redirect: 'manual',
    body: new URLSearchParams({ ...asked, redirect_uri: `${service.url}/`, mail: 'nobody@lark.example' }),
  });
  expect(answer.status).toBe(400);
  // What comes back on the page is text, and no more.
  const page = await (
    await at({ redirect_uri: `${service.url}/`, state: '"><script>alert(1)</script>' })
  ).text();
  expect(page).not.toContain('<script>');
});

test('whoever listens is told of a unit that has changed, within two seconds', async () => {
  const { token } = await signIn(DANA.mail);
  const { access_token: accessToken } = tokens.parse(await token.json());
  const headers = { authorization: `Bearer ${accessToken}` };
  const stream = await fetch(`${service.url}/v1/changes`, { headers });
  const reader = stream.body?.pipeThrough(new TextDecoderStream()).getReader();
  expect((await reader?.read())?.value).toContain('listening');
  const said = Date.now();
  const answer = await fetch(`${service.url}/v1/units/u-1/out-of-service`, {
    method: 'PUT',
    headers: { ...headers, 'content-type': 'application/json' },
    body: '{}',
  });
  expect(answer.status).toBe(202);
  let heard = '';
  while (!heard.includes('"u-1"')) heard += (await reader?.read())?.value ?? '"u-1" never';
  expect(heard).toContain('event: unit');
  expect(Date.now() - said).toBeLessThan(2_000);
  await reader?.cancel();
  const { items } = await service.ports.store.audited(COMPANY, { limit: 9 });
  expect(items[0]).toMatchObject({ by: 'Dana Reyes (dispatcher)', unitId: 'u-1' });
});

test('whoever comes by another name of this machine is sent to the one that the provider knows', async () => {
  const elsewhere = service.url.replace('127.0.0.1', 'localhost');
  const answer = await fetch(`${elsewhere}/units/u-1?x=1`, {
    redirect: 'manual',
    headers: { accept: 'text/html' },
  });
  expect([answer.status, answer.headers.get('location')]).toEqual([307, `${service.url}/units/u-1?x=1`]);
  expect((await fetch(`${elsewhere}/v1/sign-in`)).status).toBe(200);
});

test('pages are served with their policy, whatever address of a page is opened; nothing beside them is', async () => {
  const get = (path: string, accept = 'text/html') => fetch(service.url + path, { headers: { accept } });
  for (const path of ['/', '/units/u-1/alerts/a', '/units/u.1', '/attention']) {
    const page = await get(path);
    expect(await page.text()).toContain('<title>console</title>');
    expect(page.headers.get('content-security-policy')).toContain("script-src 'self'");
    expect(page.headers.get('content-security-policy')).not.toContain('unsafe');
    expect(page.headers.get('cache-control')).toBe('no-cache');
  }
  expect((await get('/assets/x-1.js', '*/*')).headers.get('cache-control')).toContain('immutable');
  for (const path of [
    '/v1/nowhere',
    '/assets/none.js',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/%',
    '/units/u-1',
  ]) {
    const answer = await get(path, path === '/units/u-1' ? 'application/json' : 'text/html');
    const text = await answer.text();
    expect(text).not.toContain('not for anybody');
    // What is no file is a page, which says that there is none.
    if (!path.includes('%')) expect([path, answer.status]).toEqual([path, 404]);
  }
});
