import { createHash, randomUUID } from 'node:crypto';
import * as z from 'zod';
import { jsonService, type LocalService } from './server.ts';

/** A message in a queue. */
export interface Kept {
  readonly id: string;
  readonly body: string;
  readonly group: string | undefined;
  readonly dedup: string | undefined;
  readonly trace: string | undefined;
  /** Until when nobody else sees it, by the clock of this process. */
  hiddenUntil: number;
  receipt: string;
}

/** Amazon SQS, as far as senders, and those who look into dead letters, see it: its JSON protocol. */
export interface LocalSqs extends LocalService {
  /** Messages by the name of their queue, in the order in which they were taken. */
  readonly queues: Map<string, Kept[]>;
  /** How many calls sent something. */
  sends: number;
  /** Whether an entry of a call is not taken, though the call is. */
  fails: (body: string) => boolean;
  urlOf(queue: string): string;
}

/** What a message may be made of: Amazon SQS API reference, SendMessage. */
const ALLOWED = /^[\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]*$/u;
/** What ids of groups and sendings may be: the same page. */
const ID = /^[\w!"#$%&'()*+,\-./:;<=>?@[\\\]^`{|}~]{1,128}$/;
const MOST_BYTES = 1_048_576;

const batchOf = <Entry extends z.ZodRawShape>(entry: Entry) =>
  z.object({
    QueueUrl: z.url(),
    Entries: z
      .array(z.object({ Id: z.string(), ...entry }))
      .min(1)
      .max(10),
  });
const sendSchema = batchOf({
  MessageBody: z.string().min(1).regex(ALLOWED),
  MessageGroupId: z.string().regex(ID).optional(),
  MessageDeduplicationId: z.string().regex(ID).optional(),
});
const receiveSchema = z.object({
  QueueUrl: z.url(),
  MaxNumberOfMessages: z.int().min(1).max(10),
  VisibilityTimeout: z.int().min(0),
});
const deleteSchema = batchOf({ ReceiptHandle: z.string() });
const showSchema = batchOf({ ReceiptHandle: z.string(), VisibilityTimeout: z.int().min(0) });

export async function localSqs(): Promise<LocalSqs> {
  const queues = new Map<string, Kept[]>();
  const queueOf = (url: string) => {
    const name = url.slice(url.lastIndexOf('/') + 1);
    const kept = queues.get(name) ?? [];
    queues.set(name, kept);
    return { name, kept };
  };

  function send(input: unknown, trace: string | undefined) {
    const { QueueUrl, Entries } = sendSchema.parse(input);
    const { name, kept } = queueOf(QueueUrl);
    const bytes = Entries.reduce((sum, { MessageBody }) => sum + Buffer.byteLength(MessageBody), 0);
    if (bytes > MOST_BYTES) throw new Error(`BatchRequestTooLong: ${bytes} bytes`);
    if (new Set(Entries.map(({ Id }) => Id)).size < Entries.length)
      throw new Error('BatchEntryIdsNotDistinct');
    sqs.sends += 1;
    const Successful: object[] = [];
    const Failed: object[] = [];
    for (const { Id, MessageBody: body, MessageGroupId: group, MessageDeduplicationId: dedup } of Entries) {
      const isFifo = name.endsWith('.fifo');
      if (isFifo !== (group !== undefined) || isFifo !== (dedup !== undefined)) {
        Failed.push({ Id, SenderFault: true, Code: 'InvalidParameterValue', Message: 'group or no group' });
        continue;
      }
      if (sqs.fails(body)) {
        Failed.push({ Id, SenderFault: false, Code: 'InternalError', Message: 'not now' });
        continue;
      }
      const message = { id: randomUUID(), body, group, dedup, trace, hiddenUntil: 0, receipt: '' };
      if (!isFifo || !kept.some((each) => each.dedup === dedup)) kept.push(message);
      Successful.push({ Id, MessageId: message.id, MD5OfMessageBody: md5(body) });
    }
    return { Successful, Failed };
  }

  function receive(input: unknown) {
    const { QueueUrl, MaxNumberOfMessages, VisibilityTimeout } = receiveSchema.parse(input);
    const now = Date.now();
    const { kept } = queueOf(QueueUrl);
    const hidden = new Set(kept.filter(({ hiddenUntil }) => hiddenUntil > now).map(({ group }) => group));
    const Messages = kept
      .filter(({ hiddenUntil, group }) => hiddenUntil <= now && (group === undefined || !hidden.has(group)))
      .slice(0, MaxNumberOfMessages)
      .map((message) => {
        message.hiddenUntil = now + VisibilityTimeout * 1000;
        message.receipt = randomUUID();
        const { id, body, group, receipt } = message;
        const Attributes = {
          SentTimestamp: '1545082649183',
          ...(group !== undefined && { MessageGroupId: group }),
        };
        return { MessageId: id, ReceiptHandle: receipt, Body: body, MD5OfBody: md5(body), Attributes };
      });
    return { Messages };
  }

  function settle(
    QueueUrl: string,
    entries: readonly { Id: string; ReceiptHandle: string }[],
    done: (message: Kept, index: number, all: Kept[]) => void,
  ) {
    const { kept } = queueOf(QueueUrl);
    for (const { ReceiptHandle } of entries) {
      const index = kept.findIndex(({ receipt }) => receipt === ReceiptHandle);
      const message = kept[index];
      if (!message) throw new Error(`ReceiptHandleIsInvalid: ${ReceiptHandle}`);
      done(message, index, kept);
    }
    return { Successful: entries.map(({ Id }) => ({ Id })), Failed: [] };
  }

  function takeOff(input: unknown) {
    const { QueueUrl, Entries } = deleteSchema.parse(input);
    return settle(QueueUrl, Entries, (_message, index, all) => all.splice(index, 1));
  }

  function show(input: unknown) {
    const { QueueUrl, Entries } = showSchema.parse(input);
    return settle(QueueUrl, Entries, (message) => {
      message.hiddenUntil = 0;
    });
  }

  const service = await jsonService('AmazonSQS', {
    SendMessageBatch: (input, headers) => send(input, headers['x-amzn-trace-id']?.toString()),
    ReceiveMessage: receive,
    DeleteMessageBatch: takeOff,
    ChangeMessageVisibilityBatch: show,
  });
  const sqs: LocalSqs = {
    ...service,
    queues,
    sends: 0,
    fails: () => false,
    urlOf: (queue) => `${service.endpoint}/123456789012/${queue}`,
  };
  return sqs;
}

function md5(text: string): string {
  return createHash('md5').update(text).digest('hex');
}
