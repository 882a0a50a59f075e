/** A way into the API. */
export interface ApiPath {
  /** As Amazon API Gateway has it. */
  readonly route: string;
  /** As Amazon CloudFront has it; undefined where another stands for it. */
  readonly pattern?: string;
  /** Whether the gateway for people asks for a token. */
  readonly signedIn: boolean;
}

/**
 * What of the API is reached from outside. Where nobody need have signed in the function still judges for itself: links
 * to households carry a signature.
 */
export const API_PATHS: readonly ApiPath[] = [
  { route: 'ANY /v1/{proxy+}', pattern: '/v1/*', signedIn: true },
  { route: 'GET /v1/sign-in', signedIn: false },
  { route: 'ANY /answer/{proxy+}', pattern: '/answer/*', signedIn: false },
  { route: 'GET /health', pattern: '/health', signedIn: false },
  { route: 'GET /openapi.json', pattern: '/openapi.json', signedIn: false },
];
