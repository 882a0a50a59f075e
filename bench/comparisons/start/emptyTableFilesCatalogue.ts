import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { GlueClient } from '@aws-sdk/client-glue';
import { S3Client } from '@aws-sdk/client-s3';
import { clientOptions } from '../../../lib/store/client.ts';
import { readOne } from './readOne.ts';

const client = new DynamoDBClient(clientOptions(process.env));
/** Made, as ours are, and not asked for anything. */
export const others = [new S3Client({}), new GlueClient({})];

export const handler = () => readOne(client);
