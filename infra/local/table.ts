import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { clientOptions } from '../../lib/store/client.ts';
import { dynamoStore } from '../../lib/store/dynamoStore.ts';
import type { Store } from '../../lib/store/store.ts';
import { createTable } from '../../lib/store/table.ts';
import { startEmbeddedTable } from './embeddedTable.ts';

type OnCapacity = NonNullable<Parameters<typeof dynamoStore>[0]['onCapacity']>;

export interface Table {
  readonly store: Store;
  readonly client: DynamoDBClient;
  readonly tableName: string;
  /** Where it is, for people. */
  readonly place: string;
  close(): Promise<void>;
}

export interface TableOptions {
  /** Of the embedded table. */
  readonly folder: string;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly onCapacity: OnCapacity;
  /** Told if the embedded table fails for good. */
  readonly onFailure: (error: Error) => void;
}

const NAME = 'brinebell';

/**
 * The table: an embedded one in a folder, asked in its thread; or where `DYNAMODB_ENDPOINT` points;
 * or, where `BRINEBELL_TABLE` names one, in the cloud. It is made unless it is there, but not in the cloud.
 */
export async function openTable({ folder, env, onCapacity, onFailure }: TableOptions): Promise<Table> {
  const { DYNAMODB_ENDPOINT: endpoint, BRINEBELL_TABLE: tableName = NAME } = env;
  const isCloud = endpoint === undefined && env.BRINEBELL_TABLE !== undefined;
  const embedded =
    endpoint === undefined && !isCloud ? await startEmbeddedTable(folder, onFailure) : undefined;
  const client = new DynamoDBClient(
    embedded
      ? { ...clientOptions({ DYNAMODB_ENDPOINT: embedded.endpoint }), ...embedded.within }
      : clientOptions(env),
  );
  if (!isCloud) await createTable(client, tableName);
  return {
    store: dynamoStore({ client, tableName, onCapacity }),
    client,
    tableName,
    place: embedded ? folder : `table ${tableName}${endpoint === undefined ? '' : ` at ${endpoint}`}`,
    close: async () => {
      client.destroy();
      await embedded?.close();
    },
  };
}
