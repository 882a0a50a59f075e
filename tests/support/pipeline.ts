import { randomUUID } from 'node:crypto';
import type { SQSBatchResponse, SQSEvent } from 'aws-lambda';
import { assess } from '../../functions/assess.ts';
import { ingest } from '../../functions/ingest.ts';
import { type ReceivedMessage, type StoredMessage, storedSchema } from '../../functions/messages.ts';
import { type NoticeMessage, noticeSchema } from '../../functions/noticeMessages.ts';
import type { Outgoing, Ports } from '../../functions/ports.ts';
import type { Store } from '../../lib/store/store.ts';
import { sqsEvent } from './lambda/events.ts';

interface Message extends Outgoing {
  readonly messageId: string;
  receives: number;
}

/** Silence. */
export const noLog: Ports['log'] = { debug() {}, info() {}, warn() {}, error() {} };

/** The functions between their queues, all in memory; chance decides who is next, and sometimes repeats a message. */
export class Pipeline {
  readonly notices: NoticeMessage[] = [];
  /** What was sent to be archived. */
  readonly stored: StoredMessage[] = [];
  readonly ports: Ports;
  readonly counted = new Map<string, number>();
  readonly #ingest: Message[] = [];
  readonly #assess: Message[] = [];
  /** Told how often the message has been handed out that is handed out most often now. */
  onReceive: (receives: number) => void = () => {};
  readonly #uniform: () => number;
  readonly #handlers: Record<'ingest' | 'assess', (event: SQSEvent) => Promise<SQSBatchResponse>>;

  constructor(store: Store, uniform: () => number, now: () => number) {
    this.#uniform = uniform;
    const into = (queue: Message[]) => ({
      send: async (messages: readonly Outgoing[]) => {
        queue.push(...messages.map((each) => ({ ...each, messageId: randomUUID(), receives: 0 })));
      },
    });
    const notify = {
      send: async (messages: readonly Outgoing[]) => {
        this.notices.push(...messages.map(({ body }) => noticeSchema.parse(JSON.parse(body))));
      },
    };
    const archive = {
      send: async (messages: readonly Outgoing[]) => {
        this.stored.push(...messages.map(({ body }) => storedSchema.parse(JSON.parse(body))));
      },
    };
    this.ports = {
      store,
      queues: { ingest: into(this.#ingest), assess: into(this.#assess), notify, archive },
      now,
      meter: {
        count: (counter, by, labels) => {
          const name = [counter, ...Object.values(labels ?? {})].join(' ');
          this.counted.set(name, (this.counted.get(name) ?? 0) + by);
        },
      },
      log: noLog,
    };
    this.#handlers = { ingest: ingest(this.ports), assess: assess(this.ports) };
  }

  async receive(message: ReceivedMessage): Promise<void> {
    await this.ports.queues.ingest.send([{ body: JSON.stringify(message) }]);
  }

  /**
   * Handles messages until there are none left.
   *
   * @throws Error if one has come back a hundred times: whatever befalls them, some time they must be done
   */
  async drain(): Promise<void> {
    while (this.#ingest.length + this.#assess.length > 0) {
      const first = this.#assess.length === 0 || (this.#ingest.length > 0 && this.#uniform() < 0.5);
      if (first) await this.#handle(this.#ingest, this.#upTo(12), this.#handlers.ingest);
      else await this.#handle(this.#assess, this.#upTo(4), this.#handlers.assess);
    }
  }

  #upTo(most: number): number {
    return 1 + Math.floor(this.#uniform() * most);
  }

  /** Hands out a batch from the front; what fails goes back to the front, so that a group keeps its order. */
  async #handle(
    queue: Message[],
    size: number,
    handler: (event: SQSEvent) => Promise<SQSBatchResponse>,
  ): Promise<void> {
    const batch = queue.splice(0, size);
    for (const message of batch) {
      message.receives += 1;
      if (message.receives > 100) throw new Error(`a message is never done: ${message.body}`);
    }
    this.onReceive(Math.max(...batch.map(({ receives }) => receives)));
    const { batchItemFailures } = await handler(
      sqsEvent(batch.map(({ messageId, ...message }) => ({ ...message, id: messageId, sentAt: 0 }))),
    );
    const failed = new Set(batchItemFailures.map(({ itemIdentifier }) => itemIdentifier));
    // At least once: what is done may be handed out again.
    const again = batch.filter(({ messageId }) => failed.has(messageId) || this.#uniform() < 0.02);
    queue.unshift(...again);
  }
}
