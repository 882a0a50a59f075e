import type { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import type { Context } from 'aws-lambda';
import { EXPIRY } from '../lib/store/table.ts';
import { once } from '../shared/once.ts';

/** The partition of what has been sent; ids of units and companies stand in the keys of others only after a `#`. */
const PARTITION = 'notices';

/** Longer than a queue keeps a message, dead letters included: 14 days at most with Amazon SQS. */
const KEPT_SECONDS = 30 * 86_400;

/** What of notices has been sent. */
export interface SentNotices {
  /**
   * Returns a function that does something once for a key. What failed may be done again; what was cut off while it was
   * done may be too, as soon as the time of the invocation that did it is over.
   */
  onceFor(context: Context): (key: string, send: () => Promise<void>) => Promise<void>;
}

/** What has been sent, kept in the table beside everything else, each until it may go. */
export function sentNotices(client: DynamoDBClient, tableName: string): SentNotices {
  // With the first that is sent: many processes find nobody to tell.
  const loaded = once(async () => {
    const [library, { DynamoDBPersistenceLayer }] = await Promise.all([
      import('@aws-lambda-powertools/idempotency'),
      import('@aws-lambda-powertools/idempotency/dynamodb'),
    ]);
    const persistenceStore = new DynamoDBPersistenceLayer({
      tableName,
      keyAttr: 'pk',
      sortKeyAttr: 'sk',
      staticPkValue: PARTITION,
      expiryAttr: EXPIRY,
      awsSdkV3Client: client,
    });
    return { ...library, persistenceStore };
  });
  return {
    onceFor(context) {
      // One for each invocation: it holds how much time that one has left.
      const made = once(async () => {
        const { IdempotencyConfig, makeIdempotent, persistenceStore } = await loaded();
        const config = new IdempotencyConfig({
          expiresAfterSeconds: KEPT_SECONDS,
          hashFunction: 'sha256',
          lambdaContext: context,
        });
        return (send: () => Promise<void>) =>
          makeIdempotent(async (_key: string) => send(), { persistenceStore, config, keyPrefix: 'notify' });
      });
      return async (key, send) => {
        const idempotent = await made();
        await idempotent(send)(key);
      };
    },
  };
}

/** Whether something is not done because another invocation does it, or did it until it was cut off a moment ago. */
export function isBeingSent(error: unknown): boolean {
  return error instanceof Error && error.name === 'IdempotencyAlreadyInProgressError';
}
