import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { clientOptions } from '../../../lib/store/client.ts';
import { readOne } from './readOne.ts';

const client = new DynamoDBClient(clientOptions(process.env));

export const handler = () => readOne(client);
