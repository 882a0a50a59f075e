import { IdempotencyConfig, makeIdempotent } from '@aws-lambda-powertools/idempotency';
import { DynamoDBPersistenceLayer } from '@aws-lambda-powertools/idempotency/dynamodb';
import type { BasePersistenceLayer } from '@aws-lambda-powertools/idempotency/persistence';
import type { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import type { Context } from 'aws-lambda';
import { EXPIRY } from '../lib/store/table.ts';

/** The partition of what has been sent; ids of units and companies stand in the keys of others only after a `#`. */
const PARTITION = 'notices';

/** Longer than a queue keeps a message, dead letters included: 14 days at most with Amazon SQS. */
const KEPT_SECONDS = 30 * 86_400;

/** What has been sent, kept in the table beside everything else, each until it may go. */
export function sentNotices(client: DynamoDBClient, tableName: string): BasePersistenceLayer {
  return new DynamoDBPersistenceLayer({
    tableName,
    keyAttr: 'pk',
    sortKeyAttr: 'sk',
    staticPkValue: PARTITION,
    expiryAttr: EXPIRY,
    awsSdkV3Client: client,
  });
}

/**
 * Returns a function that does something once for a key. What failed may be done again; what was cut off while it was
 * done may be too, as soon as the time of the invocation that did it is over.
 */
export function onceFor(
  sent: BasePersistenceLayer,
  context: Context,
): (key: string, send: () => Promise<void>) => Promise<void> {
  // One for each invocation: it holds how much time that one has left.
  const config = new IdempotencyConfig({
    expiresAfterSeconds: KEPT_SECONDS,
    hashFunction: 'sha256',
    lambdaContext: context,
  });
  return async (key, send) => {
    const once = makeIdempotent(async (_key: string) => send(), {
      persistenceStore: sent,
      config,
      keyPrefix: 'notify',
    });
    await once(key);
  };
}
