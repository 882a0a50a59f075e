import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { SQSClient } from '@aws-sdk/client-sqs';
import { clientOptions } from '../../../lib/store/client.ts';
import { readOne } from './readOne.ts';

const client = new DynamoDBClient(clientOptions(process.env));
/** Made, as ours is, and not asked for anything. */
export const sqs = new SQSClient({});

export const handler = () => readOne(client);
