import { IoTClient } from '@aws-sdk/client-iot';
import { admit } from '../../../functions/meters/admit.ts';
import { entry } from '../parts/entry.ts';
import { noOutlets } from '../parts/noOutlets.ts';
import { portsOf } from '../parts/ports.ts';
import { thingCertificates } from '../parts/thingCertificates.ts';

const ports = portsOf('admit', noOutlets('admit'));
// A meter waits five seconds for all of it.
const client = new IoTClient({
  maxAttempts: 2,
  requestHandler: { connectionTimeout: 500, requestTimeout: 1_500 },
});

export const handler = entry(ports, admit({ ...ports, certificates: thingCertificates(client) }));
