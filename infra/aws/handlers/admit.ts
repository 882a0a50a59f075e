import { Logger } from '@aws-lambda-powertools/logger';
import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { IoTClient } from '@aws-sdk/client-iot';
import { admit } from '../../../functions/admit.ts';
import { clientOptions } from '../../../lib/store/client.ts';
import { dynamoStore } from '../../../lib/store/dynamoStore.ts';
import { ENVIRONMENT } from '../environment.ts';
import { thingCertificates } from '../parts/thingCertificates.ts';

const tableName = process.env[ENVIRONMENT.table];
if (!tableName) throw new Error(`${ENVIRONMENT.table} is not set: deploy the stack anew, which sets it`);

export const handler = admit({
  store: dynamoStore({ client: new DynamoDBClient(clientOptions(process.env)), tableName }),
  // A meter waits five seconds for all of it.
  certificates: thingCertificates(
    new IoTClient({ maxAttempts: 2, requestHandler: { connectionTimeout: 500, requestTimeout: 1_500 } }),
  ),
  now: Date.now,
  log: new Logger({ serviceName: 'admit' }),
});
