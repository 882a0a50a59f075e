/** A service that does not answer is given up, and asked again, well before a function's time is over. */
const CONNECTION_MS = 1_000;
const REQUEST_MS = 3_000;
const ATTEMPTS = 3;

/** How services are reached: where and as whom, the environment says. */
export const CLIENT_OPTIONS = {
  maxAttempts: ATTEMPTS,
  requestHandler: {
    connectionTimeout: CONNECTION_MS,
    requestTimeout: REQUEST_MS,
    throwOnRequestTimeout: true,
  },
} as const;
