import {
  type AttributeValue,
  type BatchWriteItemCommand,
  type ConsumedCapacity,
  DeleteItemCommand,
  GetItemCommand,
  PutItemCommand,
  QueryCommand,
  UpdateItemCommand,
} from '@aws-sdk/client-dynamodb';
import { marshall } from '@aws-sdk/util-dynamodb';
import { writeBatches } from './batches.ts';
import { decodeCursor, encodeCursor } from './cursor.ts';
import { storeError } from './failures.ts';
import type { Item, Key } from './item.ts';
import {
  attributesOf,
  type Changes,
  type Condition,
  conditionOf,
  itemOf,
  queryOf,
  type Range,
  updateOf,
} from './requests.ts';
import type { Sender } from './sender.ts';
import type { Page, PageRequest, Store } from './store.ts';

/** Read and write units that a call took. */
export interface Capacity {
  readonly read: number;
  readonly write: number;
}

export interface AccessOptions {
  readonly client: Sender;
  readonly tableName: string;
  /** Told what each call took, by the method of the store that made it. A write that its condition stops is not told. */
  readonly onCapacity?: ((operation: keyof Store, capacity: Capacity) => void) | undefined;
  /** Waits between tries of a batch. */
  readonly pause: (milliseconds: number) => Promise<void>;
}

type StartKey = Record<string, AttributeValue> | undefined;

/** The table in our terms: items in and out, errors as StoreErrors, capacity always asked for. */
export class Access {
  readonly #options: AccessOptions;
  readonly #base: { readonly TableName: string; readonly ReturnConsumedCapacity: 'TOTAL' };

  constructor(options: AccessOptions) {
    this.#options = options;
    this.#base = { TableName: options.tableName, ReturnConsumedCapacity: 'TOTAL' };
  }

  async get(operation: keyof Store, key: Key, fresh = false): Promise<Item | undefined> {
    const command = new GetItemCommand({ ...this.#base, Key: marshall(key), ConsistentRead: fresh });
    const { Item } = await this.#answer(operation, 'read', this.#options.client.send(command));
    return Item && itemOf(Item);
  }

  async put(operation: keyof Store, item: Item, condition?: Condition): Promise<void> {
    const request = { ...this.#base, Item: attributesOf(item), ...conditionOf(condition) };
    await this.#answer(operation, 'write', this.#options.client.send(new PutItemCommand(request)));
  }

  /** Changes some attributes and leaves the others; makes the item if there is none. */
  async update(operation: keyof Store, key: Key, changes: Changes, condition?: Condition): Promise<void> {
    const request = { ...this.#base, Key: marshall(key), ...updateOf(changes, condition) };
    await this.#answer(operation, 'write', this.#options.client.send(new UpdateItemCommand(request)));
  }

  async drop(operation: keyof Store, key: Key, condition?: Condition): Promise<void> {
    const request = { ...this.#base, Key: marshall(key), ...conditionOf(condition) };
    await this.#answer(operation, 'write', this.#options.client.send(new DeleteItemCommand(request)));
  }

  /** Puts items without condition; of two with one key the later one. */
  async putAll(operation: keyof Store, items: readonly Item[]): Promise<void> {
    const byKey = new Map(items.map((item) => [JSON.stringify([item.pk, item.sk]), item]));
    const requests = [...byKey.values()].map((item) => ({ PutRequest: { Item: attributesOf(item) } }));
    const { client, tableName, pause } = this.#options;
    const send = (command: BatchWriteItemCommand) => this.#answer(operation, 'write', client.send(command));
    await writeBatches(requests, { tableName, pause, send });
  }

  /** All of a range, however many pages it takes. */
  async all(operation: keyof Store, range: Range): Promise<Item[]> {
    const items: Item[] = [];
    let start: StartKey;
    do {
      const answer = await this.#query(operation, range, start);
      items.push(...answer.items);
      start = answer.last;
    } while (start);
    return items;
  }

  /** The first items of a range, `limit` at most; `end` is the sort key of the last one where there are more. */
  async first(operation: keyof Store, range: Range, limit: number): Promise<{ items: Item[]; end?: string }> {
    const { items, last } = await this.#query(operation, range, undefined, limit);
    return { items, ...(last?.sk?.S !== undefined && { end: last.sk.S }) };
  }

  /** Some of a range, as they are asked for from outside. */
  async page(operation: keyof Store, range: Range, { limit, cursor }: PageRequest): Promise<Page<Item>> {
    const { partition, listed } = range;
    const names = listed ? ['lsk', 'pk', 'sk'] : ['sk'];
    let start: StartKey;
    if (cursor !== undefined) {
      const keys = decodeCursor(cursor, partition, names.length).map((key, index) => [names[index], key]);
      start = marshall({ [listed ? 'lpk' : 'pk']: partition, ...Object.fromEntries(keys) });
    }
    const { items, last } = await this.#query(operation, range, start, limit);
    const keys = last && names.map((name) => last[name]?.S ?? '');
    return { items, next: keys && encodeCursor(partition, keys) };
  }

  async #query(operation: keyof Store, range: Range, start: StartKey, limit?: number) {
    const request = { ...this.#base, ...queryOf(range), ExclusiveStartKey: start, Limit: limit };
    const sent = this.#options.client.send(new QueryCommand(request));
    const { Items, LastEvaluatedKey } = await this.#answer(operation, 'read', sent);
    return { items: (Items ?? []).map(itemOf), last: LastEvaluatedKey };
  }

  async #answer<Output extends { ConsumedCapacity?: ConsumedCapacity | ConsumedCapacity[] | undefined }>(
    operation: keyof Store,
    kind: keyof Capacity,
    sent: Promise<Output>,
  ): Promise<Output> {
    const answer = await sent.catch((error: unknown) => {
      throw storeError(error);
    });
    for (const { CapacityUnits = 0 } of [answer.ConsumedCapacity ?? []].flat()) {
      this.#options.onCapacity?.(operation, { read: 0, write: 0, [kind]: CapacityUnits });
    }
    return answer;
  }
}
