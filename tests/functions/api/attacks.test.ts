import { createHmac } from 'node:crypto';
import { gzipSync } from 'node:zlib';
import { Logger } from '@aws-lambda-powertools/logger';
import fc from 'fast-check';
import { createLocalJWKSet, exportJWK, exportSPKI, generateKeyPair, SignJWT } from 'jose';
import { describe, expect, it, vi } from 'vitest';
import { apiApp } from '../../../functions/api/app.ts';
import { oidcIdentity } from '../../../functions/api/identity.ts';
import { passwordCredentials } from '../../../functions/meters/credentials.ts';
import { hashOf } from '../../../functions/secrets.ts';
import { lines, records } from '../../support/smallFleet.ts';
import { keyOf, live, service } from './service.ts';

const COMPANY = 'fenwick-water';
const NDJSON = 'application/x-ndjson';

async function fleet() {
  const made = service();
  const key = await keyOf(made, COMPANY);
  await live(made.store, records, lines.slice(0, 20));
  return { ...made, key };
}

describe('a token', () => {
  const PROVIDER = { issuer: 'https://sign-in.example', clientId: 'console', scope: 'openid' };
  const claims = {
    iss: PROVIDER.issuer,
    aud: PROVIDER.clientId,
    exp: 4e9,
    email: 'dana@x.example',
    email_verified: true,
  };
  const encoded = (value: object) => Buffer.from(JSON.stringify(value)).toString('base64url');

  it('is believed by the signature of its provider alone, whatever algorithm it names', async () => {
    const pair = await generateKeyPair('RS256', { extractable: true });
    const jwk = { ...(await exportJWK(pair.publicKey)), kid: 'k', alg: 'RS256' };
    const identity = oidcIdentity({
      ...PROVIDER,
      jwksUri: 'https://sign-in.example/keys',
      keys: createLocalJWKSet({ keys: [jwk] }),
    });
    const right = new SignJWT(claims).setProtectedHeader({ alg: 'RS256', kid: 'k' });
    expect(await identity.mailOf(await right.sign(pair.privateKey))).toBe(claims.email);

    const use = (token_use: string) =>
      new SignJWT({ ...claims, token_use }).setProtectedHeader({ alg: 'RS256' }).sign(pair.privateKey);
    expect(await identity.mailOf(await use('access'))).toBe(claims.email);
    expect(await identity.mailOf(await use('id'))).toBeUndefined();

    const body = encoded(claims);
    // The public key as the secret of a symmetric signature: whoever verifies by the header's word would believe it.
    const spki = await exportSPKI(pair.publicKey);
    const confused = ['HS256', 'HS384', 'HS512'].flatMap((alg) =>
      [spki, JSON.stringify(jwk), jwk.n ?? ''].map((secret) => {
        const head = `${encoded({ alg, kid: 'k', typ: 'JWT' })}.${body}`;
        return `${head}.${createHmac(`sha${alg.slice(2)}`, secret)
          .update(head)
          .digest('base64url')}`;
      }),
    );
    const unsigned = ['none', 'None', 'NONE', ''].flatMap((alg) =>
      ['', 'AA'].map((signature) => `${encoded({ alg, kid: 'k' })}.${body}.${signature}`),
    );
    // A key that the token brings along.
    const own = await generateKeyPair('RS256', { extractable: true });
    const ownJwk = await exportJWK(own.publicKey);
    const brought = await Promise.all(
      [{ jwk: ownJwk }, { jku: 'https://evil.example/keys' }, { x5u: 'https://evil.example/c' }].map((more) =>
        new SignJWT(claims).setProtectedHeader({ alg: 'RS256', kid: 'k', ...more }).sign(own.privateKey),
      ),
    );
    for (const token of [...confused, ...unsigned, ...brought]) {
      expect([token, await identity.mailOf(token)]).toEqual([token, undefined]);
    }
  });
});

describe('a key', () => {
  it('opens nothing by a name that is something else in the table', async () => {
    const { ask, store } = await fleet();
    await store.putPerson(COMPANY, {
      ...{ personId: 'd', mail: 'dana@x.example', name: 'D', role: 'owner', units: 'us' },
    });
    // Persons and principals are neighbours there; a person has no hash of a secret.
    const names = [
      'dana@x.example',
      '#',
      'P#x',
      'companies',
      COMPANY,
      `${COMPANY}/`,
      '__proto__',
      'constructor',
    ];
    for (const name of names) {
      for (const secret of ['', 'undefined', 'null', hashOf('')]) {
        expect([name, (await ask('GET', '/v1/me', { key: `${name}.${secret}` })).status]).toEqual([
          name,
          401,
        ]);
      }
    }
  });
});

describe('a request', () => {
  it('of a page elsewhere is not answered to it, and no cookie says who asks', async () => {
    const { app, key } = await fleet();
    const headers = { authorization: `Bearer ${key}`, origin: 'https://evil.example' };
    for (const [method, path] of [
      ['GET', '/v1/units'],
      ['OPTIONS', '/v1/units'],
      ['GET', '/health'],
    ] as const) {
      const answer = await app.request(path, { method, headers });
      const told = [...answer.headers.keys()].filter((name) => /^access-control|^set-cookie/.test(name));
      expect([path, told]).toEqual([path, []]);
    }
    expect(
      (await app.request('/v1/units', { headers: { cookie: `key=${key}; authorization=${key}` } })).status,
    ).toBe(401);
  });

  it('is answered with what no browser keeps, and none takes for something else', async () => {
    const { app, key } = await fleet();
    const paths = ['units', 'units/u-17', 'units/u-17/brief', 'units/u-17/brief.pdf', 'people', 'salt.csv'];
    for (const path of [...paths, 'backup/events.ndjson', 'units/nobodys', 'nowhere']) {
      const { headers } = await app.request(`/v1/${path}`, { headers: { authorization: `Bearer ${key}` } });
      expect([path, headers.get('cache-control')]).toEqual([path, 'no-store']);
      expect([path, headers.get('x-content-type-options')]).toEqual([path, 'nosniff']);
    }
  });

  it('whose body is packed is not unpacked: a small one cannot become a large one', async () => {
    const { app, key, sent } = await fleet();
    const headers = { authorization: `Bearer ${key}`, 'content-type': NDJSON, 'content-encoding': 'gzip' };
    const body = gzipSync(`${lines[0]}\n`.repeat(1000));
    const answer = await app.request('/v1/events', { method: 'POST', headers, body });
    expect(answer.status).toBe(400);
    expect(sent.ingest).toEqual([]);
  });

  it('changes what objects are by no name in its body', async () => {
    const { ask, key, store } = await fleet();
    const before = await store.company(COMPANY);
    const bodies = [
      '{"name":"x","rules":{"__proto__":{"overrun":{"raise":0.5}},"constructor":{"prototype":{"polluted":1}}}}',
      '{"__proto__":{"name":"x","polluted":1},"name":"x"}',
      `{"name":"x","rules":{"overrun":${'{"a":'.repeat(50_000)}1${'}'.repeat(50_000)}}}`,
    ];
    for (const body of bodies) {
      const { status } = await ask('PUT', '/v1/company', { key, body, type: 'application/json' });
      expect([body.slice(0, 80), status]).toEqual([body.slice(0, 80), 400]);
    }
    const units = `${JSON.stringify(records[0]).slice(0, -1)},"__proto__":{"polluted":1}}\n{"__proto__":{"unitId":"u-9"}}`;
    expect((await ask('PUT', '/v1/units', { key, body: units, type: NDJSON })).status).toBe(200);
    const csv = '__proto__,constructor,unit_id\r\n1,2,u-9\r\n';
    expect((await ask('PUT', '/v1/units', { key, body: csv, type: 'text/csv' })).status).toBe(400);
    expect(await store.company(COMPANY)).toEqual(before);
    expect(Reflect.get({}, 'polluted')).toBeUndefined();
    expect(Reflect.get({}, 'overrun')).toBeUndefined();
  });

  it('with whatever in its address is refused as what it is, and is no fault of ours', async () => {
    const { app, key } = await fleet();
    const odd = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 40 }),
      fc.constantFrom(
        '..',
        '../u-18',
        'u-17/../u-18',
        '\0',
        '__proto__',
        '\u202e',
        'a'.repeat(3000),
        '%',
        '%ff',
        '#',
        'U#x',
      ),
    );
    const routes = [
      'units/@',
      'units/@/alerts',
      'units/@/alerts/@',
      'units/@/brief',
      'units/@/story',
      'alerts?cursor=@',
    ];
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...routes), odd, odd, async (route, one, other) => {
        const [first, second] = [one, other].map((text) => encodeURIComponent(text));
        const path = `/v1/${route.replace('@', first ?? '').replace('@', second ?? '')}`;
        const answer = await app.request(path, { headers: { authorization: `Bearer ${key}` } });
        expect([path, answer.status < 500]).toEqual([path, true]);
      }),
    );
  });
});

describe('the log', () => {
  it('is one line an entry, whatever is in it', () => {
    const written: string[] = [];
    const logger = new Logger({ serviceName: 'brinebell' });
    const output = vi
      .spyOn(process.stderr, 'write')
      .mockImplementation((line) => written.push(String(line)) > 0);
    const forged = 'u-1\n{"level":"ERROR","message":"forged"}\r\u2028\u001b[2K';
    logger.error('a request failed', { route: forged, error: new Error(forged) });
    output.mockRestore();
    const lines = written.flatMap((each) => each.split(/[\n\r]/)).filter((line) => line !== '');
    expect(lines).toHaveLength(1);
    expect(JSON.parse(lines[0] ?? '')).toMatchObject({ message: 'a request failed', route: forged });
  });

  it('of a failing request has neither its key nor its body', async () => {
    const told: unknown[] = [];
    const { key, ports, store } = await fleet();
    const broken = { ...store, putCompany: () => Promise.reject(new Error('the table is away')) };
    const log = { ...ports.log, error: (...what: unknown[]) => void told.push(what) };
    const app = apiApp(
      { ...ports, store: broken, log },
      {
        answerSecret: async () => 'x',
        credentials: passwordCredentials(store),
        health: async () => ({ ok: true }),
      },
    );
    const secret = 'a-secret-of-the-hook';
    const channels = [{ type: 'webhook', url: 'https://desk.example/hook', secret }];
    const answer = await app.request('/v1/company', {
      method: 'PUT',
      headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
      body: JSON.stringify({ name: 'x', channels }),
    });
    expect(answer.status).toBe(500);
    const text = `${JSON.stringify(told)} ${String(told)} ${await answer.text()}`;
    expect(told).toHaveLength(1);
    for (const each of [key, key.slice(key.lastIndexOf('.') + 1), secret]) expect(text).not.toContain(each);
  });
});
