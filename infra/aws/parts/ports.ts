import { DynamoDBClient } from '@aws-sdk/client-dynamodb';
import { cloudMeter } from '../../../functions/cloudMeter.ts';
import type { Ports } from '../../../functions/ports.ts';
import { clientOptions } from '../../../lib/store/client.ts';
import { dynamoStore } from '../../../lib/store/dynamoStore.ts';
import type { FunctionName } from '../../topology.ts';
import { ENVIRONMENT, METRICS_NAMESPACE } from '../environment.ts';
import type { CloudLog } from './cloudLog.ts';
import { logOf, writeLine } from './logOf.ts';
import { setting } from './setting.ts';

/** What a function of the cloud is given, and what its ports stand on. */
export interface CloudPorts extends Ports {
  readonly log: CloudLog;
  readonly table: { readonly client: DynamoDBClient; readonly tableName: string };
}

/** The ports of a function, made once a process. */
export function portsOf(name: FunctionName, queues: Ports['queues']): CloudPorts {
  const client = new DynamoDBClient(clientOptions(process.env));
  const tableName = setting(ENVIRONMENT.table);
  return {
    store: dynamoStore({ client, tableName }),
    queues,
    now: Date.now,
    meter: cloudMeter({ namespace: METRICS_NAMESPACE, service: name, write: writeLine }),
    log: logOf(name),
    table: { client, tableName },
  };
}
