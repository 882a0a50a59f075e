import { type DynamoDBClient, GetItemCommand } from '@aws-sdk/client-dynamodb';
import { ENVIRONMENT } from '../../../infra/aws/environment.ts';

/** Reads one item, which is not there. */
export async function readOne(client: DynamoDBClient): Promise<void> {
  const Key = { pk: { S: 'nothing' }, sk: { S: 'nothing' } };
  await client.send(new GetItemCommand({ TableName: process.env[ENVIRONMENT.table], Key }));
}
