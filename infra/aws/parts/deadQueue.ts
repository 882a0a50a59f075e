import {
  ChangeMessageVisibilityBatchCommand,
  DeleteMessageBatchCommand,
  type Message,
  ReceiveMessageCommand,
  type SQSClient,
} from '@aws-sdk/client-sqs';
import { chunks } from '../../../shared/chunks.ts';

/** Amazon SQS API reference: so many messages a call, be it to receive, to show or to delete them. */
const MOST_IN_CALL = 10;
/** Long enough to look at all that are there, and short enough that they are soon seen again if we are cut off. */
const HIDDEN_SECONDS = 20;
/** Asks all servers of the queue, and not only some of them, as an answer at once would come from. */
const WAIT_SECONDS = 1;

export interface DeadQueue {
  /** Messages, each once; they stay hidden for others for a while. At most so many, for as long as there is time. */
  look(most: number, untilMs: number): AsyncGenerator<readonly Message[]>;
  /** Shows messages to others again. */
  show(messages: readonly Message[]): Promise<void>;
  delete(messages: readonly Message[]): Promise<void>;
}

/** The dead letters of a queue, in a queue of Amazon SQS of their own. */
export function deadQueue(client: Pick<SQSClient, 'send'>, QueueUrl: string): DeadQueue {
  return {
    async *look(most, untilMs) {
      const seen = new Set<string | undefined>();
      while (seen.size < most && Date.now() < untilMs) {
        const { Messages = [] } = await client.send(
          new ReceiveMessageCommand({
            QueueUrl,
            MaxNumberOfMessages: MOST_IN_CALL,
            VisibilityTimeout: HIDDEN_SECONDS,
            WaitTimeSeconds: WAIT_SECONDS,
            MessageSystemAttributeNames: ['SentTimestamp', 'MessageGroupId'],
          }),
        );
        const fresh = Messages.filter(({ MessageId }) => !seen.has(MessageId));
        if (fresh.length === 0) return;
        for (const { MessageId } of fresh) seen.add(MessageId);
        yield fresh;
      }
    },
    async show(messages) {
      for (const Entries of entriesOf(messages)) {
        const visible = Entries.map((entry) => ({ ...entry, VisibilityTimeout: 0 }));
        // What fails here is seen again by itself, a little later.
        await client.send(new ChangeMessageVisibilityBatchCommand({ QueueUrl, Entries: visible }));
      }
    },
    async delete(messages) {
      for (const Entries of entriesOf(messages)) {
        const { Failed = [] } = await client.send(new DeleteMessageBatchCommand({ QueueUrl, Entries }));
        if (Failed.length > 0)
          throw new Error(`dead letters stay that were sent again: ${Failed[0]?.Message}`);
      }
    },
  };
}

function entriesOf(messages: readonly Message[]) {
  const entries = messages.map(({ ReceiptHandle }, index) => ({ Id: String(index), ReceiptHandle }));
  return chunks(entries, MOST_IN_CALL);
}
