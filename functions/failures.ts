import type { SQSBatchResponse } from 'aws-lambda';
import { atOnce } from './atOnce.ts';
import type { Ports } from './ports.ts';

/** The messages of a batch that have failed, and so come back, while the others are done. */
export class Failures {
  readonly #log: Ports['log'];
  readonly #failed = new Set<string>();

  constructor(log: Ports['log']) {
    this.#log = log;
  }

  /** Does some work for messages; if it throws, they have failed, and there is no result. */
  guard<Result>(messageIds: readonly string[], work: () => Result): Result | undefined {
    try {
      return work();
    } catch (error) {
      this.#fail(messageIds, error);
      return undefined;
    }
  }

  /** As {@link guard}, for work that takes time. */
  async guardAll<Result>(
    messageIds: readonly string[],
    work: () => Promise<Result>,
  ): Promise<Result | undefined> {
    try {
      return await work();
    } catch (error) {
      this.#fail(messageIds, error);
      return undefined;
    }
  }

  /**
   * Does some work for all of the items in one go; if that fails, for each by itself, so that none is held up by another.
   * Returns those for which it is done. All of it may be done again.
   */
  async guardTogether<Item extends { readonly messageIds: readonly string[] }>(
    most: number,
    items: readonly Item[],
    work: (items: readonly Item[]) => Promise<void>,
  ): Promise<readonly Item[]> {
    if (items.length > 1) {
      try {
        await work(items);
        return items;
      } catch (error) {
        this.#log.debug('what failed together is tried one by one', {
          error: error instanceof Error ? error : String(error),
        });
      }
    }
    const done = await atOnce(most, items, (item) =>
      this.guardAll(item.messageIds, async () => {
        await work([item]);
        return item;
      }),
    );
    return done.flatMap((item) => item ?? []);
  }

  response(): SQSBatchResponse {
    return { batchItemFailures: [...this.#failed].map((itemIdentifier) => ({ itemIdentifier })) };
  }

  #fail(messageIds: readonly string[], error: unknown) {
    for (const messageId of messageIds) this.#failed.add(messageId);
    this.#log.warn('messages come back', {
      messageIds,
      error: error instanceof Error ? error : String(error),
    });
  }
}
