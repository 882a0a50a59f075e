import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { S3Client } from '@aws-sdk/client-s3';
import { clientOptions } from '../../../lib/store/client.ts';
import { readOne } from './readOne.ts';

const client = new DynamoDBClient(clientOptions(process.env));
/** Made, as ours is, and not asked for anything. */
export const s3 = new S3Client({});

export const handler = () => readOne(client);
