import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { IoTClient } from '@aws-sdk/client-iot';
import { clientOptions } from '../../../lib/store/client.ts';
import { readOne } from './readOne.ts';

const client = new DynamoDBClient(clientOptions(process.env));
/** Made, as ours is, and not asked for anything. */
export const iot = new IoTClient({});

export const handler = () => readOne(client);
