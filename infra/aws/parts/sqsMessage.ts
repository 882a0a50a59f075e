import { createHash, randomUUID } from 'node:crypto';
import type { SendMessageBatchRequestEntry } from '@aws-sdk/client-sqs';
import type { Outgoing } from '../../../functions/ports.ts';

/** A message as it is sent, under the same ids however often. */
export interface SqsMessage {
  readonly entry: Omit<SendMessageBatchRequestEntry, 'Id'>;
  /** What counts against the limit of a call, or a little more. */
  readonly bytes: number;
}

/** Amazon SQS developer guide, "Using the Amazon SQS message group ID": at most 128 letters. */
const LONGEST_GROUP = 128;

/** @param fifo whether the queue keeps the order within groups */
export function sqsMessage({ body, group }: Outgoing, { fifo }: { fifo: boolean }): SqsMessage {
  const MessageBody = allowed(body);
  const ids = fifo ? { MessageGroupId: groupId(group ?? ''), MessageDeduplicationId: randomUUID() } : {};
  const bytes = Buffer.byteLength(MessageBody) + Buffer.byteLength(JSON.stringify(ids));
  return { entry: { MessageBody, ...ids }, bytes };
}

/**
 * SQS takes no message with U+FFFE or U+FFFF in it (Amazon SQS API reference, SendMessage); in JSON, which all of ours are,
 * they can be written otherwise. Its other forbidden characters are never written out in JSON.
 */
function allowed(body: string): string {
  return body.replace(/[\uFFFE\uFFFF]/g, (character) => `\\u${character.charCodeAt(0).toString(16)}`);
}

/** A company's id and a unit's may come to 129 letters. */
function groupId(group: string): string {
  if (group.length > 0 && group.length <= LONGEST_GROUP) return group;
  return createHash('sha256').update(group).digest('hex');
}
