import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import dynalite from 'dynalite';
import { clientOptions } from '../../lib/store/client.ts';
import { dynamoStore } from '../../lib/store/dynamoStore.ts';
import type { Sender } from '../../lib/store/sender.ts';
import type { Store } from '../../lib/store/store.ts';
import { createTable } from '../../lib/store/table.ts';

/** A table of its own on an emulator in memory, and a store on it. */
export interface TestTable {
  readonly client: DynamoDBClient;
  readonly endpoint: string;
  readonly tableName: string;
  readonly store: Store;
  close(): Promise<void>;
}

/** @param before stands before the client that the store is given: where faults are put in */
export async function testTable(before: (client: Sender) => Sender = (client) => client): Promise<TestTable> {
  const server = dynalite({ createTableMs: 0 });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  const port = typeof address === 'object' ? address?.port : undefined;
  const endpoint = `http://127.0.0.1:${port}`;
  const tableName = 'brinebell-test';
  const client = new DynamoDBClient(clientOptions({ DYNAMODB_ENDPOINT: endpoint }));
  await createTable(client, tableName);
  return {
    client,
    endpoint,
    tableName,
    store: dynamoStore({ client: before(client), tableName }),
    async close() {
      client.destroy();
      await new Promise((resolve) => server.close(resolve));
    },
  };
}
