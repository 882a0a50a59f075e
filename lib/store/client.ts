import type { DynamoDBClientConfig } from '@aws-sdk/client-dynamodb';

/** A peer that does not answer is given up well before the shortest timeout of a function is over. */
const CONNECTION_MS = 1_000;
const REQUEST_MS = 2_000;
const ATTEMPTS = 3;

/**
 * How to reach DynamoDB: in the cloud as the environment says, or where `DYNAMODB_ENDPOINT` points. An emulator there
 * asks for a region and credentials and believes any.
 */
export function clientOptions(env: Readonly<Record<string, string | undefined>>): DynamoDBClientConfig {
  const { DYNAMODB_ENDPOINT: endpoint, AWS_REGION: region, AWS_ACCESS_KEY_ID: keyId } = env;
  return {
    maxAttempts: ATTEMPTS,
    // What stands between a command and its request is made once, not with each: a quarter of what a call takes.
    cacheMiddleware: true,
    requestHandler: {
      connectionTimeout: CONNECTION_MS,
      requestTimeout: REQUEST_MS,
      throwOnRequestTimeout: true,
    },
    ...(region === undefined ? {} : { region }),
    ...(endpoint === undefined ? {} : { endpoint, region: region ?? 'local' }),
    ...(endpoint !== undefined && keyId === undefined
      ? { credentials: { accessKeyId: 'local', secretAccessKey: 'local' } }
      : {}),
  };
}
