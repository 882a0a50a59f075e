import { DynamoDBServiceException } from '@aws-sdk/client-dynamodb';
import { isConflict, StoreError } from './errors.ts';

const CONFLICTS = new Set(['ConditionalCheckFailedException', 'TransactionConflictException']);
const THROTTLES = new Set([
  'LimitExceededException',
  'ProvisionedThroughputExceededException',
  'RequestLimitExceeded',
  'ThrottlingException',
  'TooManyRequestsException',
]);

/** What an error of the SDK means to whoever asked. One that is no answer of DynamoDB leaves it open what was done. */
export function storeError(cause: unknown): StoreError {
  if (cause instanceof StoreError) return cause;
  const message = cause instanceof Error ? `${cause.name}: ${cause.message}` : String(cause);
  return new StoreError(codeOf(cause), message, { cause });
}

function codeOf(error: unknown): StoreError['code'] {
  if (!(error instanceof DynamoDBServiceException)) return 'unavailable';
  if (CONFLICTS.has(error.name)) return 'conflict';
  if (THROTTLES.has(error.name) || error.$metadata.httpStatusCode === 429) return 'throttled';
  const isTheirs = error.$fault === 'server' || (error.$metadata.httpStatusCode ?? 0) >= 500;
  return isTheirs ? 'unavailable' : 'refused';
}

/** Whether something was done that is done under a condition; false where the condition does not hold. */
export async function unlessConflict(doing: Promise<unknown>): Promise<boolean> {
  try {
    await doing;
    return true;
  } catch (error) {
    if (isConflict(error)) return false;
    throw error;
  }
}
