import { createHash, randomBytes } from 'node:crypto';
import { Hono } from 'hono';
import { bodyLimit } from 'hono/body-limit';
import { html } from 'hono/html';
import { createLocalJWKSet, exportJWK, generateKeyPair, type JWTPayload, SignJWT } from 'jose';
import { type Identity, oidcIdentity } from '../../functions/api/identity.ts';
import type { Person } from '../../lib/store/person.ts';

const CLIENT_ID = 'brinebell-console';
const SCOPE = 'openid email profile';
const ALGORITHM = 'ES256';
const KEY_ID = 'demo';
const TOKEN_SECONDS = 3600;
const CODE_MS = 60_000;
const MOST_CODES = 1000;
const MOST_BODY_BYTES = 16_384;

/** What a code was given out for. */
interface Grant {
  readonly person: Pick<Person, 'mail' | 'name'>;
  readonly redirectUri: string;
  readonly challenge: string;
  readonly nonce: string | undefined;
  readonly until: number;
}

export interface Issuer {
  readonly app: Hono;
  readonly identity: Identity;
}

/**
 * An OpenID provider in this process, for a demonstration only: whoever opens it picks one of its invented people, and no
 * password is asked. Code flow with PKCE (RFC 7636), nothing else; its key lives as long as the process. Times are those
 * of the real clock, however fast the demonstration's runs.
 *
 * @param origin where people reach the service; they are sent nowhere else
 */
export async function startIssuer(
  origin: () => string,
  people: () => Promise<readonly Pick<Person, 'mail' | 'name' | 'role'>[]>,
): Promise<Issuer> {
  const { privateKey, publicKey } = await generateKeyPair(ALGORITHM);
  const jwks = { keys: [{ ...(await exportJWK(publicKey)), kid: KEY_ID, alg: ALGORITHM, use: 'sig' }] };
  const issuer = () => `${origin()}/issuer`;
  const grants = new Map<string, Grant>();

  const signed = (claims: JWTPayload) =>
    new SignJWT(claims)
      .setProtectedHeader({ alg: ALGORITHM, kid: KEY_ID })
      .setIssuer(issuer())
      .setAudience(CLIENT_ID)
      .setIssuedAt()
      .setExpirationTime(`${TOKEN_SECONDS}s`)
      .sign(privateKey);

  const app = new Hono();
  app.use(bodyLimit({ maxSize: MOST_BODY_BYTES }));
  app.get('/.well-known/openid-configuration', (c) =>
    c.json({
      issuer: issuer(),
      authorization_endpoint: `${issuer()}/authorize`,
      token_endpoint: `${issuer()}/token`,
      jwks_uri: `${issuer()}/keys`,
      response_types_supported: ['code'],
      subject_types_supported: ['public'],
      id_token_signing_alg_values_supported: [ALGORITHM],
      code_challenge_methods_supported: ['S256'],
      token_endpoint_auth_methods_supported: ['none'],
      scopes_supported: SCOPE.split(' '),
    }),
  );
  app.get('/keys', (c) => c.json(jwks));

  app.get('/authorize', async (c) => {
    const asked = c.req.query();
    const wrong = objection(asked, origin());
    if (wrong) return c.text(wrong, 400);
    c.header(
      'content-security-policy',
      "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'",
    );
    return c.html(page(await people(), asked));
  });

  app.post('/authorize', async (c) => {
    const asked = Object.fromEntries(
      [...(await c.req.formData())].map(([name, value]) => [name, String(value)]),
    );
    const wrong = objection(asked, origin());
    const person = (await people()).find(({ mail }) => mail === asked.mail);
    if (wrong || !person) return c.text(wrong ?? 'Nobody of that address is here.', 400);
    const code = randomBytes(24).toString('base64url');
    const [oldest] = grants.keys();
    if (grants.size >= MOST_CODES && oldest !== undefined) grants.delete(oldest);
    grants.set(code, {
      person,
      redirectUri: asked.redirect_uri ?? '',
      challenge: asked.code_challenge ?? '',
      nonce: asked.nonce,
      until: Date.now() + CODE_MS,
    });
    const back = new URL(asked.redirect_uri ?? '');
    back.searchParams.set('code', code);
    back.searchParams.set('iss', issuer());
    if (asked.state !== undefined) back.searchParams.set('state', asked.state);
    return c.redirect(back.href, 303);
  });

  app.post('/token', async (c) => {
    const given = await c.req.formData();
    const of = (name: string) => String(given.get(name) ?? '');
    const grant = grants.get(of('code'));
    grants.delete(of('code'));
    const challenge = createHash('sha256').update(of('code_verifier')).digest('base64url');
    const isGood =
      grant !== undefined &&
      grant.until > Date.now() &&
      of('grant_type') === 'authorization_code' &&
      of('client_id') === CLIENT_ID &&
      of('redirect_uri') === grant.redirectUri &&
      challenge === grant.challenge;
    c.header('cache-control', 'no-store');
    if (!isGood) return c.json({ error: 'invalid_grant' }, 400);
    const { mail, name } = grant.person;
    const claims = { sub: mail, email: mail, email_verified: true, name };
    return c.json({
      access_token: await signed({ ...claims, client_id: CLIENT_ID }),
      id_token: await signed({ ...claims, ...(grant.nonce !== undefined && { nonce: grant.nonce }) }),
      token_type: 'Bearer',
      expires_in: TOKEN_SECONDS,
    });
  });

  const keys = createLocalJWKSet(jwks);
  const identity = (): Identity =>
    oidcIdentity({ issuer: issuer(), clientId: CLIENT_ID, scope: SCOPE, jwksUri: `${issuer()}/keys`, keys });
  return {
    app,
    // The address is known only once the service listens.
    identity: {
      get signIn() {
        return identity().signIn;
      },
      mailOf: (token) => identity().mailOf(token),
    },
  };
}

/** What is wrong with a request to sign in, in words; undefined where nothing is. */
function objection(asked: Readonly<Record<string, string>>, origin: string): string | undefined {
  const {
    client_id: clientId,
    response_type: type,
    redirect_uri: back = '',
    code_challenge: challenge,
  } = asked;
  if (clientId !== CLIENT_ID) return 'The client is not known here.';
  if (!URL.canParse(back) || new URL(back).origin !== origin)
    return 'The way back does not lead to this service.';
  if (type !== 'code' || !challenge || asked.code_challenge_method !== 'S256')
    return 'Only the code flow with PKCE (S256) is known here.';
  return undefined;
}

function page(
  people: readonly Pick<Person, 'mail' | 'name' | 'role'>[],
  asked: Readonly<Record<string, string>>,
) {
  const hidden = Object.entries(asked).map(
    ([name, value]) => html`<input type="hidden" name="${name}" value="${value}">`,
  );
  return html`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Sign in to the demonstration</title>
<style>
  :root { color-scheme: light dark; font: 1rem/1.5 system-ui, sans-serif }
  body { max-width: 26rem; margin: 3rem auto; padding: 0 1rem }
  button { display: block; width: 100%; margin: .5rem 0; padding: .7rem 1rem; font: inherit; text-align: start; cursor: pointer }
  small { display: block }
</style>
<main>
<h1>Who are you today?</h1>
<p>The company and its people are invented. No password is asked: never put this page where strangers can reach it.</p>
<form method="post" action="/issuer/authorize">
  ${hidden}
  ${people.map(({ mail, name, role }) => html`<button name="mail" value="${mail}">${name}<small>${role}, ${mail}</small></button>`)}
</form>
</main>
</html>`;
}
