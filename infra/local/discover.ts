import * as z from 'zod';
import type { OidcOptions } from '../../functions/api/identity.ts';
import { ServiceError } from './serviceError.ts';

const TIMEOUT_MS = 10_000;

const documentSchema = z.object({ issuer: z.string(), jwks_uri: z.url(), token_endpoint: z.url() });

/**
 * Asks an OpenID provider where its keys are (OpenID Connect Discovery 1.0).
 *
 * @throws ServiceError if it cannot be reached, or is not the issuer that it is asked for
 */
export async function discoverProvider(issuer: string, clientId: string): Promise<OidcOptions> {
  const address = `${issuer.replace(/\/$/, '')}/.well-known/openid-configuration`;
  try {
    const response = await fetch(address, { signal: AbortSignal.timeout(TIMEOUT_MS) });
    if (!response.ok) throw new Error(`it answers ${response.status}`);
    const document = documentSchema.parse(await response.json());
    if (document.issuer !== issuer) throw new Error(`it calls itself ${document.issuer}`);
    return {
      issuer,
      clientId,
      scope: 'openid email profile',
      jwksUri: document.jwks_uri,
      tokenOrigin: new URL(document.token_endpoint).origin,
    };
  } catch (error) {
    throw new ServiceError(
      'provider-unusable',
      `the OpenID provider at ${address} does not tell where its keys are: ${error instanceof Error ? error.message : String(error)}`,
      'Check --oidc-issuer: it is the address that the provider itself calls its issuer.',
    );
  }
}
