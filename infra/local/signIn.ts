import type { Hono } from 'hono';
import { type Identity, type OidcOptions, oidcIdentity } from '../../functions/api/identity.ts';
import type { Store } from '../../lib/store/store.ts';
import { startIssuer } from './issuer.ts';

/** Who vouches for people, and the provider itself where it is in this process. */
export interface SignInParts {
  readonly identity: Identity | undefined;
  readonly issuer: Hono | undefined;
  /** Origins that the console must be let ask for tokens. */
  readonly connect: readonly string[];
}

/**
 * Sets up how people sign in.
 *
 * @param origin where people reach the service; known once it listens
 */
export async function signInOf(
  { signIn }: { readonly signIn?: OidcOptions | { readonly demoCompanyId: string } | undefined },
  store: Pick<Store, 'people'>,
  origin: () => string,
): Promise<SignInParts> {
  if (!signIn) return { identity: undefined, issuer: undefined, connect: [] };
  if (!('demoCompanyId' in signIn)) {
    const { issuer, tokenOrigin } = signIn;
    const connect = [new URL(issuer).origin, ...(tokenOrigin === undefined ? [] : [tokenOrigin])];
    return { identity: oidcIdentity(signIn), issuer: undefined, connect };
  }
  const { app, identity } = await startIssuer(origin, () => store.people(signIn.demoCompanyId));
  return { identity, issuer: app, connect: [] };
}
