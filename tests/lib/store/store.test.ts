import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { clientOptions } from '../../../lib/store/client.ts';
import { dynamoStore } from '../../../lib/store/dynamoStore.ts';
import { createTable } from '../../../lib/store/table.ts';
import { memoryStore } from '../../support/memoryStore.ts';
import { testTable } from '../../support/table.ts';
import { storeContract } from './contract.ts';

storeContract('memory', async () => ({ store: memoryStore(), close: async () => {} }));
storeContract('an emulated table', () => testTable());

// A real table shows what no emulator does: reads and lists that are behind. It is made if it is not there.
const tableName = process.env.BRINEBELL_TEST_TABLE;
if (tableName) {
  storeContract(`the table ${tableName}`, async () => {
    const client = new DynamoDBClient(clientOptions(process.env));
    await createTable(client, tableName);
    return { store: dynamoStore({ client, tableName }), close: async () => client.destroy() };
  });
}
