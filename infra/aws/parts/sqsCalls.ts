import type { SqsMessage } from './sqsMessage.ts';

/** Amazon SQS API reference, SendMessageBatch: entries, and bytes of all of them and of one. */
const MOST_ENTRIES = 10;
export const MOST_BYTES = 1_048_576;

/**
 * What to send at once, of messages in lanes: the first of each lane, in calls that keep the limits. One that waits for
 * another of its group is in no call beside it, since a call may be taken in part.
 */
export function callsOf<Message extends Pick<SqsMessage, 'bytes'>>(
  lanes: Iterable<readonly Message[]>,
): Message[][] {
  const calls: Message[][] = [];
  let call: Message[] = [];
  let bytes = 0;
  for (const [message] of lanes) {
    if (!message) continue;
    if (call.length === MOST_ENTRIES || (call.length > 0 && bytes + message.bytes > MOST_BYTES)) {
      calls.push(call);
      call = [];
      bytes = 0;
    }
    call.push(message);
    bytes += message.bytes;
  }
  if (call.length > 0) calls.push(call);
  return calls;
}
