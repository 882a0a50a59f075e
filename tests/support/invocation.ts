import type { Context, SQSEvent } from 'aws-lambda';
import { contextOf } from '../../infra/local/lambdaShape.ts';
import { sqsEvent } from './lambda/events.ts';

/** How long a function has in these tests. */
export const TIMEOUT_MS = 10_000;

/** Messages as a queue hands them to `notify`; their ids are m-0, m-1 and so on. A text is a body as it stands. */
export function batchOf(bodies: readonly unknown[], sentAt = 0): SQSEvent {
  return sqsEvent(
    bodies.map((body, index) => ({
      id: `m-${index}`,
      body: typeof body === 'string' ? body : JSON.stringify(body),
      sentAt,
    })),
  );
}

/** One invocation of `notify` that has just begun. */
export function invocation(): Context {
  return contextOf('notify', 'request-1', TIMEOUT_MS / 1000);
}
