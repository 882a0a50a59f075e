import { setTimeout as pause } from 'node:timers/promises';
import {
  CreateTableCommand,
  type CreateTableInput,
  DescribeTableCommand,
  ResourceInUseException,
  ResourceNotFoundException,
} from '@aws-sdk/client-dynamodb';
import { StoreError } from './errors.ts';
import { storeError } from './failures.ts';
import type { Sender } from './sender.ts';

/** The one index: what is listed across the units of a company. Items without its key are not in it. */
export const INDEX = 'list';

/** The attribute of items that may go at some time: seconds since 1970. Most have none. */
export const EXPIRY = 'expiration';

/** How the table is made, wherever it stands. */
export const TABLE = {
  BillingMode: 'PAY_PER_REQUEST',
  AttributeDefinitions: ['pk', 'sk', 'lpk', 'lsk'].map((AttributeName) => ({
    AttributeName,
    AttributeType: 'S' as const,
  })),
  KeySchema: [
    { AttributeName: 'pk', KeyType: 'HASH' },
    { AttributeName: 'sk', KeyType: 'RANGE' },
  ],
  GlobalSecondaryIndexes: [
    {
      IndexName: INDEX,
      KeySchema: [
        { AttributeName: 'lpk', KeyType: 'HASH' },
        { AttributeName: 'lsk', KeyType: 'RANGE' },
      ],
      Projection: { ProjectionType: 'ALL' },
    },
  ],
} satisfies Omit<CreateTableInput, 'TableName'>;

const LOOKS = 60;
const FIRST_PAUSE_MS = 20;
const LONGEST_PAUSE_MS = 2_000;

/**
 * Makes the table unless it is there, and waits until it and its index can be used.
 *
 * @throws StoreError `unavailable` if that takes over about two minutes; `refused` if it is there with other indexes
 */
export async function createTable(client: Sender, tableName: string): Promise<void> {
  try {
    await client.send(new CreateTableCommand({ ...TABLE, TableName: tableName }));
  } catch (error) {
    if (!(error instanceof ResourceInUseException)) throw storeError(error);
  }
  for (let look = 0; look < LOOKS; look += 1) {
    if (await isActive(client, tableName)) return;
    await pause(Math.min(LONGEST_PAUSE_MS, FIRST_PAUSE_MS * 2 ** look));
  }
  throw new StoreError('unavailable', `the table ${tableName} is still being made: try again later`);
}

async function isActive(client: Sender, tableName: string): Promise<boolean> {
  try {
    const { Table } = await client.send(new DescribeTableCommand({ TableName: tableName }));
    const index = Table?.GlobalSecondaryIndexes?.find(({ IndexName }) => IndexName === INDEX);
    if (Table && !index)
      throw new StoreError('refused', `the table ${tableName} is not one of ours: name another`);
    return Table?.TableStatus === 'ACTIVE' && index?.IndexStatus === 'ACTIVE';
  } catch (error) {
    // A table that was made this moment may not be seen yet.
    if (error instanceof ResourceNotFoundException) return false;
    throw storeError(error);
  }
}
