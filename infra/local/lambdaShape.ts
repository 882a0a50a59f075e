import { createHash } from 'node:crypto';
import type { Context, SQSBatchResponse, SQSRecord } from 'aws-lambda';
import type { Message } from './queue.ts';

/** Thrown where a handler's answer is none of a batch. */
class ResponseError extends Error {
  readonly code = 'malformed-response';
}

/** A message as Lambda hands it to a function of Amazon SQS. */
export function recordOf(queue: string, { id, body, group, sentAt, receives }: Message): SQSRecord {
  return {
    messageId: id,
    receiptHandle: `${id}-${receives}`,
    body,
    attributes: {
      ApproximateReceiveCount: String(receives),
      SentTimestamp: String(sentAt),
      ApproximateFirstReceiveTimestamp: String(sentAt),
      SenderId: 'local',
      ...(group !== '' && { MessageGroupId: group }),
    },
    messageAttributes: {},
    md5OfBody: createHash('md5').update(body).digest('hex'),
    eventSource: 'aws:sqs',
    eventSourceARN: `arn:aws:sqs:local:000000000000:${queue}`,
    awsRegion: 'local',
  };
}

/** What a function is told of one invocation. */
export function contextOf(name: string, requestId: string, timeoutSeconds: number): Context {
  const ends = performance.now() + timeoutSeconds * 1000;
  const ignored = () => {};
  return {
    callbackWaitsForEmptyEventLoop: false,
    functionName: name,
    functionVersion: 'local',
    invokedFunctionArn: `arn:aws:lambda:local:000000000000:function:${name}`,
    memoryLimitInMB: '256',
    awsRequestId: requestId,
    logGroupName: name,
    logStreamName: 'local',
    getRemainingTimeInMillis: () => Math.max(0, Math.floor(ends - performance.now())),
    done: ignored,
    fail: ignored,
    succeed: ignored,
  };
}

/**
 * The ids that a batch's answer reports as failed, by Lambda's rules: no answer or an empty one means none.
 *
 * @throws ResponseError if an entry names no message of the batch; then all of it has failed
 */
export function failedIds(response: SQSBatchResponse | undefined | null, ids: readonly string[]): string[] {
  const failures: unknown = response?.batchItemFailures ?? [];
  if (!Array.isArray(failures)) throw new ResponseError('batchItemFailures of the answer is no array');
  const known = new Set(ids);
  return failures.map((failure: unknown) => {
    if (typeof failure === 'object' && failure !== null && 'itemIdentifier' in failure) {
      const { itemIdentifier } = failure;
      if (typeof itemIdentifier === 'string' && known.has(itemIdentifier)) return itemIdentifier;
    }
    throw new ResponseError(`${JSON.stringify(failure)} of the answer names no message of the batch`);
  });
}
