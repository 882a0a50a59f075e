import type { JWTVerifyGetKey } from 'jose';

/** Whom an OpenID provider vouches for. */
export interface Identity {
  /** What the console must know to send people there. */
  readonly signIn: SignIn;
  /**
   * The mail address of whoever a token was made out to, in lower case; undefined where the token is not valid, or over.
   *
   * @throws if the provider's keys cannot be had
   */
  mailOf(token: string): Promise<string | undefined>;
}

export interface SignIn {
  readonly issuer: string;
  readonly clientId: string;
  readonly scope: string;
}

/** The provider's keys could not be had: that says nothing about the token. */
const NOT_HAD = new Set(['ERR_JWKS_TIMEOUT', 'ERR_JWKS_INVALID', 'ERR_JOSE_GENERIC']);

/** Clocks of two machines may be so far apart, seconds. */
const CLOCK_TOLERANCE_S = 30;

export interface OidcOptions extends SignIn {
  /** Where the provider's keys are; its discovery document names it `jwks_uri`. */
  readonly jwksUri: string;
  /** Where the console fetches tokens, if that is of another origin than ours. */
  readonly tokenOrigin?: string | undefined;
  /** The keys themselves, where the provider is this process. */
  readonly keys?: JWTVerifyGetKey | undefined;
}

/**
 * Believes the access tokens of one OpenID provider: JWTs signed by it, made out for our client (`aud`, or `client_id` as
 * some providers have it), with an `email` of ASCII letters that the provider does not call unverified.
 */
export function oidcIdentity({ jwksUri, keys, issuer, clientId, scope }: OidcOptions): Identity {
  // Had when the first token comes: those with keys do without.
  let remote: JWTVerifyGetKey | undefined;
  return {
    signIn: { issuer, clientId, scope },
    async mailOf(token) {
      const { createRemoteJWKSet, errors, jwtVerify } = await import('jose');
      remote ??= keys ?? createRemoteJWKSet(new URL(jwksUri));
      try {
        const { payload } = await jwtVerify(token, remote, {
          issuer,
          algorithms: ['RS256', 'ES256', 'EdDSA'],
          requiredClaims: ['exp', 'email'],
          clockTolerance: CLOCK_TOLERANCE_S,
        });
        const { aud, client_id: client, email, email_verified: verified, token_use: use } = payload;
        const isOurs = [aud ?? [], client].flat().includes(clientId);
        const isVerified = verified === undefined || verified === true || verified === 'true';
        // Other letters may look like these, or become them when made small.
        const isPlain = typeof email === 'string' && /^[\x21-\x7e]+$/.test(email);
        // Amazon Cognito says what each token is for: Developer Guide, "Verifying JSON web tokens".
        const isAccess = use === undefined || use === 'access';
        return isOurs && isAccess && isVerified && isPlain ? email.toLowerCase() : undefined;
      } catch (error) {
        if (!(error instanceof errors.JOSEError) || NOT_HAD.has(error.code)) throw error;
        return undefined;
      }
    },
  };
}

/** Whether what was presented is a token and not a key: three parts, the first of which begins as JSON in base64. */
export function isToken(presented: string): boolean {
  return /^eyJ[\w-]*\.[\w-]+\.[\w-]+$/.test(presented);
}
