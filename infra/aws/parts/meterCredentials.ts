import { IoTClient } from '@aws-sdk/client-iot';
import type { Credentials } from '../../../functions/meters/credentials.ts';
import { ENVIRONMENT } from '../environment.ts';
import { CLIENT_OPTIONS } from './clientOptions.ts';
import type { CloudPorts } from './ports.ts';
import { setting } from './setting.ts';
import { thingCredentials } from './thingCredentials.ts';

/** Credentials of meters, as the environment names their template. */
export function meterCredentials({ store, now }: Pick<CloudPorts, 'store' | 'now'>): Credentials {
  const client = new IoTClient(CLIENT_OPTIONS);
  return thingCredentials({ client, store, now, template: setting(ENVIRONMENT.claimTemplate) });
}
